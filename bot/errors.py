"""The errors of the bot: broken promises only. A CHECK, a question or a missing forecast is a value, not an error.

The text of an error is for the log and for staff: it holds no message text, no address and no person's name.
"""


class BotError(Exception):
    """Root of every error that the bot raises itself."""


class ConfigError(BotError):
    """A setting that is missing or cannot be used; the text says which one and what to write instead."""


class FeedError(BotError):
    """Weather that cannot be used; the text says which and why."""


class FeedDown(FeedError):
    """A weather service that gave no answer worth using now and may do so later.

    Args:
        service: the service's short name.
        problem: what happened, in a few words.
        status: the HTTP status, if there was an answer at all.
        everywhere: the whole service, not one place, is out of reach.
        after_s: how long the service asked to be left alone. [s]
    """

    def __init__(
        self, service: str, problem: str, *, status: int | None = None, everywhere: bool = False, after_s: float = 0.0
    ) -> None:
        self.service, self.problem, self.status = service, problem, status
        self.everywhere, self.after_s = everywhere, after_s
        super().__init__(f"{service}: {problem}")


class FeedChanged(FeedError):
    """A weather service that answers in another shape or unit than the one known here, or refuses the request."""

    def __init__(self, service: str, problem: str) -> None:
        self.service, self.problem = service, problem
        super().__init__(f"{service}: {problem}")


class StoreError(BotError):
    """What the store was asked for cannot be done."""


class NoSuchPerson(StoreError):
    """Nobody is known by that id. The id is the store's own number, never an address."""

    def __init__(self, person: int | None = None) -> None:
        self.person = person
        super().__init__("nobody is known by that address" if person is None else f"there is no person {person}")


class StoreBusy(StoreError):
    """The database stayed locked by somebody else for longer than a reply can wait."""


class FileError(BotError):
    """A file that cannot be read as what it was handed over for; the text says what to do, and may be shown to staff."""
