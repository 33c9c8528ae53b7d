"""Inter on paper: the four faces, the roles of type, and true heights read from the face itself.

The faces under ``resources/fonts/paper`` carry tabular figures and the tailed l in their character
map, because a PDF writer sees no font features.
"""

from __future__ import annotations

import struct
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Literal

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from beeledger.base.resources import resource
from beeledger.reporting.look.ink import Ink

Face = Literal["Regular", "Medium", "SemiBold", "Bold"]
FACES: tuple[Face, ...] = ("Regular", "Medium", "SemiBold", "Bold")
MM = 72 / 25.4
"""Points in a millimetre."""


@dataclass(frozen=True, slots=True)
class Role:
    """A role of type: face, size and leading in points, ink."""

    face: Face
    size: float
    leading: float
    ink: Ink = "ink"

    @property
    def font(self) -> str:
        """The face's name in a PDF."""
        return f"Inter-{self.face}"


TITLE = Role("SemiBold", 19, 23)
IDENTITY = Role("Medium", 12, 15)
SECTION = Role("SemiBold", 11, 14)
KEY_FIGURE = Role("SemiBold", 13.5, 16)
BODY = Role("Regular", 9.5, 13)
STRONG = Role("SemiBold", 9.5, 13)
QUIET = Role("Regular", 9, 12, "ink2")
CELL = Role("Regular", 9, 12)
CELL_STRONG = Role("SemiBold", 9, 12)
HEAD = Role("SemiBold", 9, 12, "ink2")
HEAD_UNIT = Role("Regular", 9, 12, "ink3")
FOOT = Role("Regular", 8, 10, "ink2")


@cache
def register() -> dict[Face, TTFont]:
    """Make the faces known to the PDF writer; FileNotFoundError names a missing one."""
    fonts = {
        face: TTFont(f"Inter-{face}", str(resource("fonts", "paper", f"Inter-{face}.ttf"))) for face in FACES
    }
    for font in fonts.values():
        pdfmetrics.registerFont(font)
    return fonts


@lru_cache(maxsize=20_000)
def width(text: str, font: str, size: float) -> float:
    """How wide ``text`` runs, points."""
    register()
    return float(pdfmetrics.stringWidth(text, font, size))


def text_width(text: str, role: Role) -> float:
    """How wide ``text`` runs in a role, points."""
    return width(text, role.font, role.size)


@cache
def _known(face: Face) -> frozenset[int]:
    return frozenset(register()[face].face.charToGlyph)


def lacking(text: str, face: Face = "Regular") -> str:
    """The characters of ``text`` the face has no drawing for; they print as an empty box."""
    return "".join(dict.fromkeys(ch for ch in text if ord(ch) not in _known(face)))


@dataclass(frozen=True, slots=True)
class _Outlines:
    """Where a face keeps its outlines, in font units."""

    data: bytes
    units: int
    glyf: int
    offsets: tuple[int, ...]
    glyphs: dict[int, int]

    def top(self, character: str) -> int:
        """The highest point of a character's outline above the baseline.

        A glyph's bounding box stands in its header: int16 contours, xMin, yMin, xMax, yMax
        (OpenType specification, table glyf; ISO/IEC 14496-22).
        """
        glyph = self.glyphs[ord(character)]
        start, end = self.offsets[glyph], self.offsets[glyph + 1]
        if start == end:
            return 0
        return int(struct.unpack_from(">5h", self.data, self.glyf + start)[4])


@cache
def _outlines(face: Face) -> _Outlines:
    data = resource("fonts", "paper", f"Inter-{face}.ttf").read_bytes()
    count = struct.unpack_from(">H", data, 4)[0]
    tables: dict[bytes, tuple[int, int]] = {}
    for index in range(count):
        tag, _, start, length = struct.unpack_from(">4sLLL", data, 12 + 16 * index)
        tables[tag] = (start, length)
    head = tables[b"head"][0]
    units, wide = struct.unpack_from(">H", data, head + 18)[0], struct.unpack_from(">h", data, head + 50)[0]
    start, length = tables[b"loca"]
    if wide:
        offsets = struct.unpack_from(f">{length // 4}L", data, start)
    else:
        offsets = tuple(2 * half for half in struct.unpack_from(f">{length // 2}H", data, start))
    glyphs = dict(register()[face].face.charToGlyph)
    return _Outlines(data, units, tables[b"glyf"][0], offsets, glyphs)


def height_mm(face: Face, points: float, character: str) -> float:
    """How high a character stands above the baseline at a size in points, millimetres."""
    outlines = _outlines(face)
    return outlines.top(character) / outlines.units * points / MM


def figure_height_mm(face: Face, points: float) -> float:
    """The height of the lowest of the ten figures, millimetres: what the law on quantities measures."""
    return min(height_mm(face, points, figure) for figure in "0123456789")


def x_height_mm(face: Face, points: float) -> float:
    """The x-height, millimetres, as Annex IV of Regulation (EU) 1169/2011 draws it."""
    return height_mm(face, points, "x")


def size_for_figures(face: Face, millimetres: float) -> float:
    """The size in points at which the lowest figure stands ``millimetres`` high."""
    return millimetres / figure_height_mm(face, 1.0)


def size_for_x_height(face: Face, millimetres: float) -> float:
    """The size in points at which the x stands ``millimetres`` high."""
    return millimetres / x_height_mm(face, 1.0)
