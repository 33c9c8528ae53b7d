"""Round sheets filled with a pen and scanned badly: drawn from the printed PDF, with nothing of the reader's.

Where the boxes stand is taken from the paths of the PDF itself, not from the layout that the reader uses.
"""

from __future__ import annotations

import io
import math
from dataclasses import dataclass
from random import Random
from typing import Any

import numpy as np
import pypdfium2
import pypdfium2.raw
from PIL import Image, ImageDraw, ImageFilter

DPI = 200
PX = DPI / 72
BOX_POINTS = 10.2
KINDS = ("tick", "cross", "fill", "slash")


@dataclass(frozen=True, slots=True)
class Printed:
    """A page of paper at 200 dpi and its boxes, row by row from left to right, in pixels."""

    picture: Image.Image
    boxes: tuple[tuple[float, float, float, float], ...]


def printed_pages(pdf: bytes) -> list[Printed]:
    """The pages of a sheet as the printer puts them down."""
    document = pypdfium2.PdfDocument(pdf)
    return [_printed(page) for page in document]


def _printed(page: Any) -> Printed:
    high = page.get_size()[1]
    found = []
    for path in page.get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_PATH]):
        left, low, right, top = path.get_bounds()
        rim = (right - left - BOX_POINTS) / 2  # the bounds hold the pen's width as well
        if 0 <= rim < 1.2 and abs(right - left - top + low) < 0.1:
            sides = (left + rim, high - top + rim, right - rim, high - low - rim)
            found.append(tuple(side * PX for side in sides))
    found.sort(key=lambda box: (round(box[1] / 8), box[0]))
    return Printed(page.render(scale=PX).to_pil().convert("L"), tuple(found))


def filled(
    page: Printed, chance: Random, *, share: float = 0.35, strays: int = 4
) -> tuple[Image.Image, list[bool]]:
    """The page with some boxes marked and stray lines over it; and which boxes are marked."""
    fine = page.picture.resize((page.picture.width * 2, page.picture.height * 2), Image.Resampling.BICUBIC)
    pen = ImageDraw.Draw(fine)
    marked = [chance.random() < share for _ in page.boxes]
    for box, there in zip(page.boxes, marked, strict=True):
        if there:
            _mark(pen, box, chance)
    for _ in range(strays):
        _stray(pen, fine.size, chance)
    return fine.resize(page.picture.size, Image.Resampling.BOX), marked


def _mark(pen: ImageDraw.ImageDraw, box: tuple[float, float, float, float], chance: Random) -> None:
    left, top, right, low = (2 * side for side in box)
    wide, high = right - left, low - top
    shade, thick = chance.randint(10, 95), chance.randint(5, 11)

    def at(x: float, y: float) -> tuple[float, float]:
        return (left + (x + chance.gauss(0, 0.05)) * wide, top + (y + chance.gauss(0, 0.05)) * high)

    kind = chance.choice(KINDS)
    if kind == "tick":
        over = chance.uniform(-0.1, 0.35)
        pen.line([at(0.15, 0.5), at(0.4, 0.82), at(0.85 + over, 0.15 - over)], shade, thick, joint="curve")
    elif kind == "cross":
        over = chance.uniform(-0.15, 0.2)
        pen.line([at(-over, -over), at(1 + over, 1 + over)], shade, thick)
        pen.line([at(1 + over, -over), at(-over, 1 + over)], shade, thick)
    elif kind == "slash":
        pen.line([at(0.15, 0.88), at(0.85, 0.12)], shade, thick)
    else:
        steps = chance.randint(5, 8)
        points = [at(0.12 if step % 2 else 0.88, 0.1 + 0.8 * step / steps) for step in range(steps + 1)]
        pen.line(points, shade, thick, joint="curve")


def _stray(pen: ImageDraw.ImageDraw, size: tuple[int, int], chance: Random) -> None:
    """A line where the pen slipped: long, thin, over whatever lies there."""
    x, y = chance.uniform(0.1, 0.9) * size[0], chance.uniform(0.25, 0.9) * size[1]
    turn, long = chance.uniform(0, 2 * math.pi), chance.uniform(150, 900)
    end = (x + long * math.cos(turn), y + long * math.sin(turn))
    bend = ((x + end[0]) / 2 + chance.gauss(0, 20), (y + end[1]) / 2 + chance.gauss(0, 20))
    pen.line([(x, y), bend, end], chance.randint(20, 100), chance.randint(3, 8), joint="curve")


def scanned(picture: Image.Image, chance: Random, *, turn: float = 4.0, upside_down: bool = False) -> bytes:
    """The paper as a cheap scanner or a telephone in the van gives it: JPEG of quality 60."""
    page = picture.convert("L")
    wide, high = page.size
    rim = 90
    bed = Image.new("L", (wide + 2 * rim, high + 2 * rim), chance.randint(150, 255))
    bed.paste(page, (rim, rim))
    angle = chance.uniform(-turn, turn) + (180 if upside_down else 0)
    bed = bed.rotate(angle, Image.Resampling.BICUBIC, expand=True, fillcolor=chance.randint(120, 240))
    bed = _tilted(bed, chance)
    bed = bed.filter(ImageFilter.GaussianBlur(chance.uniform(0.4, 1.2)))
    grey = np.asarray(bed, dtype=np.float32) * _light(bed.size, chance)
    noise = np.random.default_rng(chance.getrandbits(64)).normal(0, chance.uniform(3, 12), grey.shape)
    dim = Image.fromarray(np.clip(grey + noise, 0, 255).astype(np.uint8))
    out = io.BytesIO()
    dim.save(out, "JPEG", quality=60, dpi=(DPI, DPI))
    return out.getvalue()


def _tilted(page: Image.Image, chance: Random, share: float = 0.015) -> Image.Image:
    """Seen a little from the side: each corner moved by up to so much of the width."""
    wide, high = page.size
    aim = [(0, 0), (wide, 0), (wide, high), (0, high)]
    move = [
        (x + chance.uniform(-1, 1) * share * wide, y + chance.uniform(-1, 1) * share * wide) for x, y in aim
    ]
    rows, want = [], []
    for (x, y), (u, v) in zip(aim, move, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        want += [u, v]
    numbers = np.linalg.solve(np.array(rows, dtype=float), np.array(want, dtype=float))
    return page.transform(
        page.size, Image.Transform.PERSPECTIVE, tuple(numbers), Image.Resampling.BICUBIC, fillcolor=190
    )


def _light(size: tuple[int, int], chance: Random) -> Any:
    """Light from one side, and the soft shadow of a hand or a lid."""
    wide, high = size
    x = np.linspace(-0.5, 0.5, wide, dtype=np.float32)[None, :]
    y = np.linspace(-0.5, 0.5, high, dtype=np.float32)[:, None]
    turn = chance.uniform(0, 2 * math.pi)
    slope = 1 - chance.uniform(0, 0.3) * (0.5 + x * math.cos(turn) + y * math.sin(turn)) / 1.2
    turn, edge, soft = chance.uniform(0, 2 * math.pi), chance.uniform(-0.3, 0.3), chance.uniform(0.01, 0.08)
    side = (x * math.cos(turn) + y * math.sin(turn) - edge) / soft
    shadow = 1 - chance.uniform(0, 0.4) / (1 + np.exp(-np.clip(side, -30, 30)))
    return np.clip(slope * shadow, 0.2, 1)
