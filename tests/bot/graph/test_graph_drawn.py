"""The drawing: well formed, in the look's own colours, dark enough, and with no label on another."""

import re
import struct
import xml.etree.ElementTree as ET
from dataclasses import replace
from itertools import combinations, product

import pytest
from graphs_drawn import GRAPHS, voice

from bot.graph import draw
from bot.graph.look import OFFICE, PHONE, PRINT
from bot.graph.sheet import Box

SVG = "{http://www.w3.org/2000/svg}"
LOOKS = {"phone": PHONE, "office": OFFICE, "print": PRINT}
VOICES = list(product(("en", "es"), ("us", "metric")))

every_graph = pytest.mark.parametrize("name", GRAPHS)
every_look = pytest.mark.parametrize("look", LOOKS.values(), ids=list(LOOKS))


def texts(svg: str) -> list[str]:
    return [each.text for each in ET.fromstring(svg).iter(f"{SVG}text")]


@every_graph
@every_look
def test_it_is_well_formed_and_as_large_as_asked(name, look):
    root = ET.fromstring(draw.svg(GRAPHS[name], voice(), look))
    assert (root.get("width"), root.get("height")) == (str(look.width), str(look.height))
    assert root.find(f"{SVG}title").text
    assert root.find(f"{SVG}desc").text


@every_graph
@every_look
@pytest.mark.parametrize(("language", "units"), VOICES)
def test_no_label_lies_on_another_or_leaves_the_sheet(name, look, language, units):
    labels = draw.sheet(GRAPHS[name], voice(language, units), look).labels
    whole = Box(0, 0, look.width, look.height)
    assert [label.text for label in labels if not label.box.inside(whole)] == []
    assert [(one.text, two.text) for one, two in combinations(labels, 2) if one.box.meets(two.box)] == []


@every_graph
@pytest.mark.parametrize(("language", "names"), [("en", "limit today full empty"), ("es", "límite hoy lleno vacío")])
def test_the_lines_and_the_scale_are_named_where_they_stand(name, language, names):
    said = " ".join(texts(draw.svg(GRAPHS[name], voice(language))))
    assert [word for word in names.split() if word not in said] == []


@pytest.mark.parametrize(
    ("name", "label"),
    [
        ("three depths", "at 12 in"),
        ("three depths", "at 24 in"),
        ("three depths", "at 35 in"),
        ("three depths", "too soon above 80%"),
        ("three depths", "if not watered"),
        ("stuck", "left out"),
        ("gaps", "feels a bit moist (C) at 6 in"),
        ("gaps", "where known"),
        ("nothing read", "Watered: 4.92 in"),
        ("one day", "Watered: nothing noted"),
        ("one day", "Rain: not known"),
        ("nothing told", "your plot"),
    ],
)
def test_what_is_drawn_is_named(name, label):
    assert any(label in text for text in texts(draw.svg(GRAPHS[name], voice())))


def test_units_are_the_persons_own():
    assert any("a 30 cm" in text for text in texts(draw.svg(GRAPHS["three depths"], voice("es", "metric"))))
    assert any(
        text.startswith("Lluvia: ") and text.endswith("mm")
        for text in texts(draw.svg(GRAPHS["three depths"], voice("es", "metric")))
    )


def test_a_name_is_text_and_nothing_else():
    name = '<script>alert("1")</script> & \x00\x1b<![CDATA['
    svg = draw.svg(replace(GRAPHS["one day"], plot=name), voice(), OFFICE)
    root = ET.fromstring(svg)
    assert list(root.iter(f"{SVG}script")) == []
    assert "<script" not in svg
    assert '<script>alert("1")</script> & <![CDATA[' in texts(svg)


@pytest.mark.parametrize("name", ["A" * 500, "ñandú 🌵 виноград", "\u202eabc", "\ud800", " "])
def test_any_name_can_be_drawn(name):
    shown = replace(GRAPHS["one day"], plot=name)
    assert draw.png(shown, voice()).startswith(b"\x89PNG")
    assert ET.fromstring(draw.svg(shown, voice())) is not None


# Colours. WCAG 2.2: 1.4.3 text 4.5 to 1, 1.4.11 graphics 3 to 1; relative luminance as defined there.


def luminance(colour: str) -> float:
    parts = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, two: str) -> float:
    dark, light = sorted((luminance(one), luminance(two)))
    return (light + 0.05) / (dark + 0.05)


def test_contrast_is_measured_as_defined():
    """Black on white is 21 to 1; #767676 on white is the known lightest grey that passes 4.5."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)


@every_graph
@every_look
def test_all_that_is_drawn_is_dark_enough_on_paper_and_wash(name, look):
    root = ET.fromstring(draw.svg(GRAPHS[name], voice(), look))
    letters = {each.get("fill") for each in root.iter(f"{SVG}text")}
    lines = {each.get("stroke") for each in root.iter() if each.tag != f"{SVG}text"} - {None, "none", look.paper}
    assert min(contrast(colour, ground) for colour in letters for ground in (look.paper, look.wash)) >= 4.5
    assert min(contrast(colour, look.paper) for colour in lines) >= 3


@every_graph
@every_look
def test_there_is_one_ink_one_accent_and_their_shades(name, look):
    used = set(re.findall(r"#[0-9a-f]{6}", draw.svg(GRAPHS[name], voice(), look)))
    assert used <= {look.ink, look.accent, look.paper, look.wash, look.rule}


def test_print_is_black_and_grey():
    colours = (PRINT.ink, PRINT.accent, PRINT.paper, PRINT.wash, PRINT.rule)
    assert all(colour[1:3] == colour[3:5] == colour[5:7] for colour in colours)


def test_depths_differ_by_shape_and_full_bars_from_hollow_ones():
    """Without any colour, waterings are filled and rain is not; a circle, a square and a diamond mark the depths."""
    svg = draw.svg(GRAPHS["three depths"], voice(), PRINT)
    corners = {path.count("L") for path in re.findall(r'<path d="([^"]+)Z" fill="#ffffff" stroke="#000000"', svg)}
    assert "<circle" in svg
    assert 3 in corners
    assert f'fill="{PRINT.accent}" stroke="{PRINT.accent}"' in svg
    assert f'fill="{PRINT.paper}" stroke="{PRINT.ink}"' in svg


@every_look
def test_the_png_has_the_size_of_the_look(look):
    png = draw.png(GRAPHS["three depths"], voice(), look)
    assert struct.unpack(">II", png[16:24]) == (look.width, look.height)
    assert len(png) < 200_000


def test_the_same_graph_is_drawn_the_same():
    assert draw.png(GRAPHS["gaps"], voice()) == draw.png(GRAPHS["gaps"], voice())
