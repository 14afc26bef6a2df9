"""The letters to people on the page. The page shows a whole conversation from what the line keeps: they have arrived there."""

from __future__ import annotations

from threading import Event

from bot.post import Post
from bot.workers import Health

_LOOK_EVERY_S = 5.0


class Pages:
    """Takes each letter out of the post when it is due."""

    name = "web"

    def __init__(self, post: Post) -> None:
        self._post = post

    def run(self, stop: Event) -> None:
        """Work until told to stop."""
        while not stop.is_set():
            letters = self._post.due(self.name)
            for letter in letters:
                self._post.took(letter)
            if not letters:
                self._post.wait(_LOOK_EVERY_S)

    def health(self) -> Health:
        """A page has nothing that could fail by itself."""
        return Health(part=self.name, well=True, says="the web chat is open")
