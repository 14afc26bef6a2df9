"""Which stretches and sentences say one thing together: an event and its day, a value and its depth."""

from __future__ import annotations

from bot.understand import words
from bot.understand.items import Row
from bot.understand.subjects import group, is_amount, is_length, lists_catches, strength

_LONGEST = 150


def kinds(row: Row) -> set[str]:
    return {item.kind for item in row}


def same_event(before: Row, piece: Row) -> bool:
    """Whether a second stretch gives the day or amount that the first left open: "90 min on the lawn, irrigated it sunday"."""
    about = _about(before)
    if about == "rain" and _is_only_rain(before) and _is_depth_alone(piece):
        return True
    if about not in ("rain", "watering") or _about(piece) != about or any(item.text in _AGAIN for item in piece):
        return False
    if _lists_amount(before) and _lists_amount(piece[:-1]) and piece[-1].kind == "date":
        return True
    if kinds(piece) & _OF_ITS_OWN or kinds(before) & _OPEN:
        return False
    if about == "rain" and _is_only_rain(before) and kinds(piece) & {"date"}:
        return True
    days = [bool(kinds(row) & {"date", "slash", "span"}) for row in (before, piece)]
    amounts = [any(is_amount(item) or is_length(item) for item in row) for row in (before, piece)]
    return not all(days) and not all(amounts) and any(amounts if about == "rain" else [*amounts, days[1]])


def _about(row: Row) -> str:
    spread = {item.kind for item in row} <= _OF_A_SPREAD and any(is_length(item) for item in row)
    by_method = spread and any(item.kind == "method" for item in row)
    return "watering" if by_method or _is_flow_with_time(row) else group(row)


_OF_A_SPREAD = {"quantity", "method", "word", "mark", "one"}  # "40 mm con aspersores"


def _lists_amount(row: Row) -> bool:
    """ "frijol 20 min y maiz 40 min de riego ayer": plots with amounts alone, whose day comes after the last."""
    told = kinds(row)
    return {"plot", "quantity"} <= told <= {"plot", "quantity", "water", "word", "mark", "one"}


def _is_only_rain(before: Row) -> bool:
    """ "granizo y aguacero ayer": words for rain alone, whose day comes after the last of them."""
    return kinds(before) <= {"rain", "word", "mark", "one", "chat"}


def _is_depth_alone(piece: Row) -> bool:
    """ "y unos 5 mm de agua" after hail: how much came of it."""
    return kinds(piece) <= {"quantity", "water", "word", "mark", "one"} and any(is_length(item) for item in piece)


def _is_flow_with_time(before: Row) -> bool:
    """ "goteo de 4 l/h por 3 horas": a watering, told with the flow."""
    dimensions = {item.value.dimension for item in before if item.kind == "quantity"}
    return {"flow", "duration"} <= dimensions


_AGAIN = words.named("again")
_OPEN = {"neg", "plan", "ask", "habit", "since"}
_OF_ITS_OWN = {"plot", "all", "neg", "plan", "ask", "each", "habit"}


def is_its_depth(before: Row, piece: Row) -> bool:
    """ "52 cb, 18 inch probe": a depth with the instrument after a value without one; "dug 10 in, makes a ball" before it."""
    if not group(before) and group(piece) == "reading" and not kinds(before) & {"plot", "number", "date"}:
        return any(is_length(item) for item in before) and not any(is_length(item) for item in piece)
    told = {item.kind for item in piece if item.kind not in ("mark", "word", "one", "at")}
    depths = [any(is_length(item) for item in row) for row in (before, piece)]
    return group(before) == "reading" and told - {"deep"} == {"quantity", "instrument"} and depths == [False, True]


def is_its_gauge(before: Row, piece: Row) -> bool:
    """ "rained all day tuesday, emptied 1.1 from the gauge": how much fell, after rain of no amount."""
    amounts = [any(is_length(item) or item.kind in ("number", "slash") for item in row) for row in (before, piece)]
    caught = any(item.text in _CAUGHT for item in piece)
    return (
        group(before) == "rain"
        and amounts == [False, True]
        and caught
        and not kinds(piece) & {"plot", "date", "neg", "at"}
    )


_CAUGHT = words.named("caught_in")


def is_its_push(before: Row, piece: Row) -> bool:
    """ "stuck a screwdriver in by the plums and it only went in 3 inches": the push, then how far it went."""
    if "rod" not in kinds(before) or kinds(before) & {"number", "quantity", "neg", "plan"} or "plot" in kinds(piece):
        return False
    return any(is_length(item) or item.kind == "number" for item in piece) and not kinds(piece) & _OF_ANOTHER


_OF_ANOTHER = {"watered", "rain", "feel", "ask", "instrument"}


def more_readings(before: Row, piece: Row) -> bool:
    """ "18% at 6in and 24% at 12in": values and depths alone go on with those before."""
    deep = all(any(is_length(item) for item in row) for row in (before, piece))
    trailing = {"plot"} if deep and "plot" not in kinds(before) else set()
    return (
        group(before) == group(piece) == "reading"
        and kinds(piece) <= _OF_VALUES | trailing
        and not kinds(before) & {"date", "feel", "rod", "slash"}
    )


_OF_VALUES = {"word", "mark", "quantity", "number", "at", "deep", "one"}


def _is_another_probe(piece: Row) -> bool:
    """ "and the deep one's at 33": told of another probe, so the figure is no depth of the first."""
    named = any(item.text in ("one", "ones") for item in piece)
    return named and "at" in kinds(piece) and not any(is_length(item) for item in piece)


def _is_of_another_day(piece: Row) -> bool:
    """ "corn is at 55 and it was 40 yesterday"."""
    return {"number", "date"} <= kinds(piece) and any(item.text in _WAS for item in piece)


_WAS = words.named("was")


def is_count(piece: Row) -> bool:
    """ "30 trees", "12 of them": a stretch that only counts."""
    told = [item for item in piece if item.kind not in ("mark", "word", "one")]
    first = next(iter(told), None)
    if first is None or first.kind != "number":
        return False
    counted = {item.kind for item in told[1:]}
    return (bool(counted) and counted <= {"thing", "name", "plot"}) or any(item.text in _OF_THEM for item in piece)


_OPINIONS = words.named("opinions")
_FINE = words.named("fine")
_IT_IS = words.named("it_is_of")
_SOME = words.named("some")
_OF_THEM = words.named("of_them")


def joins(before: Row, piece: Row) -> bool:
    """Whether a weak stretch goes with the clause before it."""
    if len(before) > _LONGEST or any(item.kind == "both" for item in piece):
        return False
    about = group(before)
    if any(item.text in _OPINIONS for item in piece[:3]):
        return False  # "we got an inch and i figured thats enough for the roses"
    if any(item.text in ("but", "pero") for item in piece[:2]) and any(item.kind == "neg" for item in before):
        return False
    if about == "reading" and (_is_another_probe(piece) or _is_of_another_day(piece)):
        return False
    if "neg" in kinds(before) and "plot" in kinds(piece) and piece[-1].text == "si":
        return False  # "las peras no las regue, la viña si, 2 horas"
    if piece[-1].text in _FINE and "plot" in kinds(piece):
        return False  # "the roses are wilting and the lawn is fine"
    if lists_catches(before) and not any(item.kind == "plot" for item in piece):
        return True
    if any(is_amount(item) for item in piece):
        return about in ("watering", "fact", "rain") or "habit" in kinds(before)
    if about == "fact" and is_count(piece):
        return False
    if any(item.kind in ("number", "slash") for item in piece):
        if about == "watering":
            return not any(item.kind in ("at", "plot", "reads") for item in piece) and not any(
                is_amount(item) for item in before
            )
        if about == "rain":
            denied = "neg" in kinds(before) and not any(item.text in _SOME for item in before)
            whole = any(item.kind == "number" and item.value >= 1 for item in piece)
            return not (denied and whole) and not kinds(piece) & {"at", "plot"}
        return about in ("reading", "fact")
    return True


def completes(before: Row, after: Row) -> bool:
    """Whether a whole sentence only adds an amount, a day or a depth to the one before."""
    about, told = group(before), kinds(after)
    lengths = any(is_length(item) for item in before)
    if same_event(before, after) or (about == "rain" and not lengths and _is_rain_told_later(before, after)):
        return True
    if (
        about == "reading"
        and "plot" not in kinds(before)
        and told <= {"plot", "reads", "word", "mark", "name"}
        and "plot" in told
    ):
        pointed = after[0].text in ("en", "on") and not any(item.kind in ("reads", "name") for item in after)
        return pointed or any(item.text in _IT_IS for item in after)
    if strength(after) != "weak" or told & {"plot", "number", "date", "slash"}:
        return False
    if any(is_amount(item) for item in after):
        open_still = not lengths and not any(is_amount(item) for item in before)
        return about == "watering" and open_still and bool(kinds(before) & {"watered", "gave"})
    if any(is_length(item) for item in after):
        return about == "reading" and not lengths and "at" not in kinds(before) and "both" not in told
    return False


def _is_rain_told_later(before: Row, after: Row) -> bool:
    """ "We finally got rain. 1.1 inches Tuesday": depths alone, or with days, after rain of neither."""
    if kinds(before) & {"neg", "plan", "ask"}:
        return False
    figures = [item.value for item in after if item.kind == "number"]
    small = len(figures) == 1 and 0 < figures[0] < 1 and kinds(after) <= _OF_A_DEPTH
    if small and "date" not in kinds(before) & kinds(after):
        return not any(is_length(item) for item in after)  # "Cloudburst at noon! .7 in half an hour"
    if not any(is_length(item) for item in after):
        return False
    alone = kinds(after) <= {"quantity", "word", "mark", "one"}
    dated = kinds(after) & {"date", "at", "deep", "plot", "number"} == {"date"} and "date" not in kinds(before)
    return (alone or dated) and strength(after) == "weak"


_OF_A_DEPTH = {"word", "number", "quantity", "date", "mark", "one"}
