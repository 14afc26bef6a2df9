"""The contrast of the pages' colours, computed from the style sheets as WCAG 2.2 defines it (relative luminance, 1.4.3, 1.4.11)."""

from __future__ import annotations

import re
from importlib.resources import files

import pytest

TEXT, GRAPHIC = 4.5, 3.0  # WCAG 2.2, 1.4.3 and 1.4.11


def colours(package: str, sheet: str) -> dict[str, str]:
    """The first `:root` of a sheet."""
    css = (files(package) / "static" / sheet).read_text(encoding="utf-8")
    root = css[css.index(":root") :]
    return dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", root[: root.index("}")]))


DAY = colours("bot.web", "base.css")
NIGHT = DAY | colours("bot.channels.web", "chat.css")


def luminance(colour: str) -> float:
    shares = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in shares)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_black_on_white_is_the_most_there_is() -> None:
    # WCAG 2.2, definition of contrast ratio: from 1 to 21.
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)  # common example; from memory


@pytest.mark.parametrize("palette", [DAY, NIGHT], ids=["day", "night"])
@pytest.mark.parametrize(
    ("ink", "ground", "least"),
    [
        *((ink, ground, TEXT) for ink in ("ink", "faint", "accent") for ground in ("paper", "sheet", "accent-shade")),
        ("faint", "shade", TEXT),
        ("sheet", "accent", TEXT),
        ("sheet", "ink", TEXT),
        *((line, ground, GRAPHIC) for line in ("edge", "accent") for ground in ("paper", "sheet")),
    ],
)
def test_what_is_written_can_be_read(palette: dict[str, str], ink: str, ground: str, least: float) -> None:
    assert contrast(palette[ink], palette[ground]) >= least


def test_night_has_a_colour_for_each_of_the_day() -> None:
    assert colours("bot.channels.web", "chat.css").keys() == DAY.keys()
