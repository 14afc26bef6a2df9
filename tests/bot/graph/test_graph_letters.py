"""How wide letters are: read from the font, and as they come out in dots."""

import struct
import zlib

import pytest
import resvg_py

from bot.graph import font


def ink(text: str, size: int, bold: bool) -> tuple[int, int]:
    """First and last column of a picture that has any ink of this text, set at 100."""
    weight = "bold" if bold else "normal"
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="1600" height="80"><text x="100" y="60" font-size="{size}" '
        f'font-weight="{weight}" font-family="DejaVu Sans">{text}</text></svg>'
    )
    png = resvg_py.svg_to_bytes(svg_string=svg, skip_system_fonts=True, font_files=font.paths())
    columns = [x for row in rows(png) for x in range(1600) if row[4 * x + 3]]
    return min(columns), max(columns)


def rows(png: bytes) -> list[bytearray]:
    """The rows of a PNG of eight bits, four channels, not interlaced (W3C PNG, section 9: filters)."""
    assert png[24:29] == bytes([8, 6, 0, 0, 0])
    data, at = b"", 8
    while at < len(png):
        (length,) = struct.unpack_from(">I", png, at)
        data += png[at + 8 : at + 8 + length] if png[at + 4 : at + 8] == b"IDAT" else b""
        at += 12 + length
    raw, wide = zlib.decompress(data), 4 * struct.unpack_from(">I", png, 16)[0]
    done = [bytearray(wide)]
    for start in range(0, len(raw), wide + 1):
        done.append(unfiltered(raw[start], raw[start + 1 : start + 1 + wide], done[-1]))
    return done[1:]


def unfiltered(how: int, line: bytes, above: bytearray) -> bytearray:
    row = bytearray(line)
    for x in range(len(row)):
        left, up, corner = (row[x - 4], above[x], above[x - 4]) if x >= 4 else (0, above[x], 0)
        near = min((abs(up - corner), 0, left), (abs(left - corner), 1, up), (abs(left + up - 2 * corner), 2, corner))
        row[x] = (row[x] + (0, left, up, (left + up) // 2, near[2])[how]) % 256
    return row


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize("text", ["HHHHHHHHHHHH", "límite 50%", "too soon above 80%", "ñandú, 12 in"])
def test_a_text_is_drawn_as_wide_as_it_is_measured(text, bold):
    """Kerning and the white beside the first and the last letter make a few dots of difference."""
    first, last = ink(text, 40, bold)
    assert last - first == pytest.approx(font.width(text, 40, bold), abs=10)


def test_bold_is_wider_and_size_is_a_factor():
    assert font.width("limit", 20, bold=True) > font.width("limit", 20)
    assert font.width("limit", 40) == pytest.approx(2 * font.width("limit", 20))


@pytest.mark.parametrize("letter", list("áéíóúüñÁÉÍÓÚÑ¿¡°%½≥…"))
def test_the_font_has_every_letter_of_both_languages(letter):
    assert letter in font._advances(False)
    assert letter in font._advances(True)
