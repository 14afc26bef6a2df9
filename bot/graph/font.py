"""How wide a text is in the letters that the pictures are drawn with: DejaVu Sans, packaged in `fonts/`.

Widths are read from the font's own tables (OpenType specification: `cmap` format 4, `hhea`, `hmtx`). In a browser without
this font the next ones in `FAMILY` are as wide or narrower, so what does not overlap here does not there.
"""

from __future__ import annotations

import struct
from functools import cache, lru_cache
from importlib.resources import files
from pathlib import Path

FAMILY = "DejaVu Sans, Verdana, sans-serif"
_FILES = {False: "DejaVuSans.ttf", True: "DejaVuSans-Bold.ttf"}
_UNKNOWN = "\ufffd"


def paths() -> list[str]:
    """The font files, for who draws letters."""
    return [str(_path(bold)) for bold in _FILES]


@lru_cache(maxsize=512)
def width(text: str, size: float, bold: bool = False) -> float:
    """Width of a text set at this size, in the size's unit. A letter that the font lacks is as wide as its sign for that."""
    known = _advances(bold)
    return size * sum(known.get(letter, known[_UNKNOWN]) for letter in text)


def _path(bold: bool) -> Path:
    return Path(str(files(__package__) / "fonts" / _FILES[bold]))


@cache
def _advances(bold: bool) -> dict[str, float]:
    """Width of each letter, in ems."""
    data = _path(bold).read_bytes()
    (count,) = struct.unpack_from(">H", data, 4)
    entries = (struct.unpack_from(">4s4xII", data, 12 + 16 * index) for index in range(count))
    tables = {name.decode(): data[start : start + length] for name, start, length in entries}
    (units,) = struct.unpack_from(">H", tables["head"], 18)
    (metrics,) = struct.unpack_from(">H", tables["hhea"], 34)
    advances = [struct.unpack_from(">H", tables["hmtx"], 4 * glyph)[0] / units for glyph in range(metrics)]
    return {letter: advances[min(glyph, metrics - 1)] for letter, glyph in _glyphs(tables["cmap"]).items()}


def _glyphs(cmap: bytes) -> dict[str, int]:
    """Which glyph each letter of the basic plane has."""
    (count,) = struct.unpack_from(">H", cmap, 2)
    starts = [struct.unpack_from(">I", cmap, 4 + 8 * index + 4)[0] for index in range(count)]
    table = next(cmap[start:] for start in starts if struct.unpack_from(">H", cmap, start)[0] == 4)
    (twice,) = struct.unpack_from(">H", table, 6)
    n = twice // 2
    ends = struct.unpack_from(f">{n}H", table, 14)
    firsts = struct.unpack_from(f">{n}H", table, 16 + twice)
    deltas = struct.unpack_from(f">{n}h", table, 16 + 2 * twice)
    offsets = struct.unpack_from(f">{n}H", table, 16 + 3 * twice)
    found: dict[str, int] = {}
    for index, (first, last, delta, offset) in enumerate(zip(firsts, ends, deltas, offsets, strict=True)):
        for code in range(first, min(last, 0xFFFE) + 1):
            at = 16 + 3 * twice + 2 * index + offset + 2 * (code - first)
            glyph = code if offset == 0 else struct.unpack_from(">H", table, at)[0]
            found[chr(code)] = (glyph + delta) % 65536
    return found
