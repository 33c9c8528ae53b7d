"""The page: margins, the title block, the running head, the foot with page n of m.

A4 with 18 mm at the sides, so that a punched sheet keeps its text. The foot says when a document
was made and from which data, and carries the document's key, by which its code is found.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from io import BytesIO
from typing import Any

from reportlab.lib.pagesizes import A4, landscape
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, NextPageTemplate, PageTemplate

from beeledger.base.dates import weekday
from beeledger.queries.records.heading import Farm, Made
from beeledger.reporting.look.fonts import (
    BODY,
    FOOT,
    IDENTITY,
    MM,
    QUIET,
    STRONG,
    TITLE,
    Role,
    register,
    text_width,
)
from beeledger.reporting.look.ink import FIFTH, HAIR, ink
from beeledger.reporting.look.text import clean, draw, wrapped

SIDE = 18 * MM
TOP = 14 * MM
FOOT_LINE = 14 * MM
"""Height of the line above the foot."""
BOTTOM = 18 * MM
RUNNING = 9 * MM
"""Room of the running head on the pages after the first."""


@dataclass(frozen=True, slots=True)
class Heading:
    """What stands at the head of a document."""

    key: str
    """The document's name in the catalogue; printed in the foot."""
    title: str
    identity: str = ""
    """What it is about: a contract, a lot mark, a site."""
    period: str = ""
    side: str = ""
    """One line at the right of the period: grid reference, product."""


@dataclass(frozen=True, slots=True)
class Paper:
    """The size of the sheet and its margins, points."""

    wide: bool = False
    side: float = SIDE
    top: float = TOP
    bottom: float = BOTTOM
    foot_line: float = FOOT_LINE
    inset: float = 0
    """How much further in title, running head and foot stand, where the corners are taken."""

    @property
    def size(self) -> tuple[float, float]:
        """Width and height."""
        return landscape(A4) if self.wide else A4

    @property
    def text_width(self) -> float:
        """Room between the margins."""
        return self.size[0] - 2 * self.side


PORTRAIT = Paper()
LANDSCAPE = Paper(wide=True, side=12 * MM, top=11 * MM, bottom=14 * MM, foot_line=11 * MM)


class TitleBlock(Flowable):
    """Farm, title, identity and period at the head of the first page."""

    def __init__(self, heading: Heading, farm: Farm, inset: float = 0) -> None:
        super().__init__()
        self.heading, self.farm, self.inset = heading, farm, inset
        self.spaceAfter = 10

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: ARG002, N803
        """The room it takes."""
        whole, aW = aW, aW - 2 * self.inset  # noqa: N806
        self.room = aW
        name = clean(self.farm.name)
        contact = " · ".join(part for part in (*self.farm.address, self.farm.contact) if clean(part))
        beside = aW - text_width(name, STRONG) - 16
        self.contact = wrapped(contact, QUIET, max(beside, aW / 3))
        self.names = wrapped(self.farm.name, STRONG, aW if not self.contact else aW * 0.6)
        inset = aW - 10
        self.titles = wrapped(self.heading.title, TITLE, inset)
        beside = inset - text_width(self.titles[-1] if self.titles else "", TITLE) - 12
        self.beside = text_width(clean(self.heading.identity), IDENTITY) <= beside
        self.identities = () if self.beside else wrapped(self.heading.identity, IDENTITY, inset)
        self.sides = wrapped(self.heading.side, BODY, inset * 0.5)
        used = max((text_width(line, BODY) for line in self.sides), default=0)
        self.periods = wrapped(self.heading.period, BODY, inset - used - 12)
        self.top = max(len(self.contact), len(self.names)) * 12 + 14
        below = max(len(self.periods), len(self.sides)) * BODY.leading
        self.block = len(self.titles) * TITLE.leading + len(self.identities) * IDENTITY.leading + below
        return whole, self.top + self.block + 2

    def draw(self) -> None:
        """The farm above a line; below it the damson bar and the title."""
        canvas = self.canv
        canvas.translate(self.inset, 0)
        height = self.top + self.block + 2
        for index, line in enumerate(self.names):
            draw(canvas, 0, height - 9.5 - 12 * index, line, STRONG)
        for index, line in enumerate(self.contact):
            draw(canvas, self.room, height - 9.5 - 12 * index, line, QUIET, "right")
        canvas.setStrokeColor(ink("line5"))
        canvas.setLineWidth(HAIR)
        canvas.line(0, height - self.top + 9, self.room, height - self.top + 9)
        canvas.setFillColor(ink("accent"))
        canvas.rect(0, 0, 2.4, self.block, stroke=0, fill=1)
        self._draw_title(height - self.top)

    def _draw_title(self, top: float) -> None:
        canvas, y = self.canv, top - 19
        for line in self.titles:
            draw(canvas, 10, y, line, TITLE)
            y -= TITLE.leading
        if self.beside and self.titles:
            start = 10 + text_width(self.titles[-1], TITLE) + 12
            draw(canvas, start, y + TITLE.leading, self.heading.identity, IDENTITY)
        for line in self.identities:
            draw(canvas, 10, y + 5, line, IDENTITY)
            y -= IDENTITY.leading
        y += TITLE.leading - 17
        for lines, x, align in ((self.periods, 10.0, "left"), (self.sides, self.room, "right")):
            for index, line in enumerate(lines):
                draw(canvas, x, y - BODY.leading * index, line, _QUIET_BODY, align)


_QUIET_BODY = Role("Regular", 9.5, 13, "ink2")


def stamp(canvas: Canvas, made: Made) -> None:
    """The moment of the data is the file's own: the same data make the same bytes."""
    offset = made.at.utcoffset()
    minutes = int(offset.total_seconds() // 60) if offset else 0
    moment = vars(canvas)["_doc"]._timeStamp  # noqa: SLF001  # the writer has no public door for it
    moment.YMDhms = made.at.timetuple()[:6]
    moment.dhh, moment.dmm = divmod(minutes, 60)


class _Counted(Canvas):
    """A canvas that keeps its pages until the last is known, then writes each foot."""

    def __init__(self, *args: Any, heading: Heading, made: Made, paper: Paper, **rest: Any) -> None:
        super().__init__(*args, **rest)
        self.heading, self.made, self.paper = heading, made, paper
        self.kept: list[dict[str, Any]] = []
        stamp(self, made)

    def showPage(self) -> None:
        """Keep the page."""
        self.kept.append(dict(self.__dict__))
        self._startPage()  # type: ignore[attr-defined]  # missing from the stubs

    def save(self) -> None:
        """Write every page with its foot."""
        total = len(self.kept)
        for number, state in enumerate(self.kept, start=1):
            self.__dict__.update(state)
            draw_foot(self, self.heading.key, self.made, self.paper, number, total)
            super().showPage()
        super().save()


def made_words(made: Made) -> str:
    """When and from which data, in one line."""
    parts = [f"Made {weekday(made.at.date())} {made.at.year}, {made.at:%H:%M}"]
    source = f"from {made.source}" if made.source else ""
    if made.act is not None:
        source = f"{source}, act {made.act:,}" if source else f"act {made.act:,}"
    return " · ".join(part for part in (*parts, source, made.by) if part)


def draw_foot(canvas: Canvas, key: str, made: Made, paper: Paper, number: int, total: int) -> None:
    """The foot of one page."""
    left, right = paper.side + paper.inset, paper.size[0] - paper.side - paper.inset
    canvas.setStrokeColor(ink("line5"))
    canvas.setLineWidth(HAIR)
    canvas.line(left, paper.foot_line, right, paper.foot_line)
    end = f"{key} · page {number} of {total}"
    y = paper.foot_line - 11
    draw(canvas, right, y, end, FOOT, "right")
    room = right - left - text_width(end, FOOT) - 16
    for index, line in enumerate(wrapped(made_words(made), FOOT, room)):
        draw(canvas, left, y - index * FOOT.leading, line, FOOT)


def _draw_running(heading: Heading, farm: Farm, paper: Paper, canvas: Canvas) -> None:
    left, right = paper.side + paper.inset, paper.size[0] - paper.side - paper.inset
    y = paper.size[1] - paper.top - 8
    words = " · ".join(part for part in (heading.title, heading.identity, heading.period) if clean(part))
    room = right - left - text_width(clean(farm.name), STRONG) - 16
    canvas.setFillColor(ink("accent"))
    canvas.rect(left, y - 2.5, 2.4, 11, stroke=0, fill=1)
    # a running head repeats the first page, so its first line is enough
    draw(canvas, left + 10, y, (wrapped(words, QUIET, max(room, 120)) or ("",))[0], QUIET)
    draw(canvas, right, y, (wrapped(farm.name, STRONG, right - left - 140) or ("",))[0], STRONG, "right")
    canvas.setStrokeColor(ink("line5"))
    canvas.setLineWidth(FIFTH)
    canvas.line(left, y - 7, right, y - 7)


def build(
    heading: Heading, farm: Farm, made: Made, story: Sequence[Flowable], paper: Paper = PORTRAIT
) -> bytes:
    """A whole document as PDF bytes; the same record and moment give the same bytes."""
    register()
    buffer = BytesIO()
    width, height = paper.size
    room = height - paper.top - paper.bottom
    first = Frame(paper.side, paper.bottom, paper.text_width, room, 0, 0, 0, 0, id="first")
    later = Frame(paper.side, paper.bottom, paper.text_width, room - RUNNING, 0, 0, 0, 0, id="later")
    document = BaseDocTemplate(
        buffer,
        pagesize=(width, height),
        pageTemplates=[
            PageTemplate(id="first", frames=[first]),
            PageTemplate(
                id="later",
                frames=[later],
                onPage=lambda canvas, _: _draw_running(heading, farm, paper, canvas),
            ),
        ],
        invariant=1,
        lang="en-GB",
        title=clean(f"{heading.title} {heading.identity}"),
        author=clean(farm.name),
        subject=clean(heading.period),
        creator="BeeLedger",
        initialFontName=BODY.font,
    )
    document.build(
        [NextPageTemplate("later"), TitleBlock(heading, farm, paper.inset), *story],
        canvasmaker=partial(_Counted, heading=heading, made=made, paper=paper),
    )
    return buffer.getvalue()
