"""The statements of a whole message put in order: doubles gone, a depth or temperature told for all of them filled in."""

from __future__ import annotations

from dataclasses import replace

from bot.understand import words as lists
from bot.understand.items import Row
from bot.understand.state import State
from bot.understand.statements import Fact, Rain, Reading, Request, Sign, Statement, Unclear, Watering


def tidied(made: list[Statement], row: Row, state: State) -> list[Statement]:
    """The depth for all filled in, a feel told twice once, and one `unclear` for a message that nothing was understood of."""
    if not all(isinstance(statement, Unclear) for statement in made):
        made = [one for one in made if not any(one is remark for remark in state.remarks)]
    made = _without_doubles(made, state.tested, layered=any(item.text in _LAYERS for item in row))
    made = _without_falling(made, row, state)
    if any(item.text in _SAME_DEPTH for item in row):
        made = _with_same_depth(made)
    if state.depth_for_all_cm is not None:
        made = [_with_depth(statement, state.depth_for_all_cm) for statement in made]
    made = [_with_temperature(statement, state.soil_temp_c) for statement in made]
    if made and all(isinstance(statement, Unclear) for statement in made) and state.sentence <= 0:
        return [Unclear(text=state.text.strip())]
    return made


def _without_falling(made: list[Statement], row: Row, state: State) -> list[Statement]:
    """ "its raining now, watered 20 min yesterday": rain that still falls has no amount yet; beside a report it is none."""
    falls = any(item.text in _FALLING for item in row)
    rest = [one for one in made if not (isinstance(one, Rain) and one.depth_mm is None and one.on == state.today)]
    return rest if falls and any(isinstance(one, Reading | Watering) for one in rest) else made


_FALLING = lists.named("falling")


def _without_doubles(made: list[Statement], tested: set[str], *, layered: bool) -> list[Statement]:
    """Each sign and reading once, and two feels of one spot as one, where no layers are told of."""
    out: list[Statement] = []
    for one in made:
        before = out[-1] if out else None
        if before == one and (
            isinstance(one, Reading | Sign | Request | Fact) or (isinstance(one, Rain) and not one.depth_mm)
        ):
            continue
        layers = layered and not (
            isinstance(before, Reading) and isinstance(one, Reading) and before.value == one.value
        )
        both = (
            _one_feel(before, one, tested)
            if isinstance(before, Reading) and isinstance(one, Reading) and not layers
            else None
        )
        out = [*out[:-1], both] if both is not None else [*out, one]
    return out


_LAYERS = lists.named("layers")


def _one_feel(first: Reading, second: Reading, tested: set[str]) -> Reading | None:
    """What two feels of one spot say together, None when they are of two spots.

    What the hand did is surer than a word for it. Of two such the wetter holds: a firm ball still forms when the hand gets wet.
    """
    depths = {reading.depth_cm for reading in (first, second)} - {None}
    if (first.quantity, first.plot, first.on) != (second.quantity, second.plot, second.on) or len(depths) > 1:
        return None
    if first.quantity != "feel" or abs(_BANDS.index(str(first.value)) - _BANDS.index(str(second.value))) > 1:
        return None
    surer = max(first, second, key=lambda reading: (reading.value in tested, _BANDS.index(str(reading.value))))
    return replace(surer, depth_cm=next(iter(depths), None))


_BANDS = ("dry", "slightly_moist", "moist", "wet", "free_water")


def _with_depth(statement: Statement, depth_cm: float) -> Statement:
    """The reading with the depth that the message gives for all, where it has none of its own."""
    if isinstance(statement, Reading) and statement.depth_cm is None and statement.quantity != "rod":
        return replace(statement, depth_cm=depth_cm)
    return statement


_SAME_DEPTH = lists.named("same_depth")


def _with_same_depth(made: list[Statement]) -> list[Statement]:
    """ "north 52 at 18 inches, south 39 same depth": the depth of the reading before."""
    out: list[Statement] = []
    depth_cm: float | None = None
    for one in made:
        if isinstance(one, Reading):
            depth_cm = one.depth_cm or depth_cm
            one = one if depth_cm is None else _with_depth(one, depth_cm)
        out.append(one)
    return out


def _with_temperature(statement: Statement, soil_temp_c: float | None) -> Statement:
    """The reading with the soil temperature of the message."""
    return (
        replace(statement, soil_temp_c=soil_temp_c)
        if isinstance(statement, Reading) and soil_temp_c is not None
        else statement
    )
