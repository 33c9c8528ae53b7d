"""Scanned round sheets read: which sheet and page each picture is, what its boxes say, and what cannot be used."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from PIL import Image

from beeledger.base.errors import CannotNow
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import counted
from beeledger.exchange.scans.boxes import read_boxes
from beeledger.exchange.scans.pictures import pictures_of
from beeledger.exchange.scans.records import ScannedPage, Scans
from beeledger.exchange.scans.straight import Found, corners_on, evened, straightened
from beeledger.rules.rounds.paper import boxes_of
from beeledger.rules.rounds.paper_code import page_of

_LEAST_CORNERS = 3


def read_scans(
    paths: Sequence[Path], progress: Callable[[int, int], None] = lambda _done, _of: None
) -> Scans:
    """Read every page of some files. What cannot be used is said in words, and the rest is kept."""
    pages: dict[tuple[str, int], ScannedPage] = {}
    findings: list[Finding] = []
    for done, path in enumerate(paths):
        progress(done, len(paths))
        for source, picture in _pictures(path, findings):
            page = read_page(picture, source, findings)
            if page is None:
                continue
            key = (page.sheet, page.paper.page)
            if key in pages:
                what = f"page {page.paper.page} is there twice, first as {pages[key].source}"
                findings.append(_said("twice", Grade.DOUBTFUL, what, "The first one was taken", source))
            pages.setdefault(key, page)
            progress(done, len(paths))
    progress(len(paths), len(paths))
    return Scans(tuple(pages[key] for key in sorted(pages)), tuple(findings))


def read_page(picture: Image.Image, source: str, findings: list[Finding]) -> ScannedPage | None:
    """One picture; None, with a finding, when it is no page of a round sheet that can be read."""
    codes = corners_on(picture)
    if not codes:
        what = "no corner code of a round sheet was found"
        findings.append(
            _said(
                "no-code", Grade.REFUSED, what, "Scan the whole sheet, all four corners, at 200 dpi", source
            )
        )
        return None
    found = _of_one_page(codes, source, findings)
    if len({corner.corner for corner, _ in found}) < _LEAST_CORNERS:
        what = f"only {counted(len(found), 'corner code')} could be read"
        findings.append(
            _said("few-codes", Grade.REFUSED, what, "Scan it again, flat and with all corners", source)
        )
        return None
    try:
        paper = page_of([corner for corner, _ in found])
    except ValueError as error:
        findings.append(_said("code", Grade.REFUSED, str(error), "Scan the page again", source))
        return None
    if _upside_down(found):
        findings.append(_said("turned", Grade.NOTED, "it lay upside down and was turned", "", source))
    straight = straightened(picture, found)
    marks = read_boxes(evened(straight), boxes_of(paper))
    return ScannedPage(found[0][0].sheet, source, paper, marks, straight)


def _pictures(path: Path, findings: list[Finding]) -> Iterator[tuple[str, Image.Image]]:
    try:
        yield from pictures_of(path)
    except CannotNow as refused:
        findings.append(_said("file", Grade.REFUSED, refused.sentence, refused.remedy, path.name))


def _of_one_page(found: Sequence[Found], source: str, findings: list[Finding]) -> Sequence[Found]:
    """The codes of the page that most of them are of, each corner once: two sheets may lie in one picture."""
    pages = [(corner.sheet, corner.page) for corner, _ in found]
    most = max(pages, key=pages.count)
    if any(page != most for page in pages):
        what = "codes of more than one page are in the picture"
        findings.append(_said("two-pages", Grade.DOUBTFUL, what, "Scan each page by itself", source))
    kept: dict[int, Found] = {}
    for corner, places in found:
        if (corner.sheet, corner.page) == most:
            kept.setdefault(corner.corner, (corner, places))
    return list(kept.values())


def _upside_down(found: Sequence[Found]) -> bool:
    """Whether the codes stand on their heads: the top of each lies below its foot."""
    return sum(places[0][1] > places[3][1] for _, places in found) * 2 > len(found)


def _said(code: str, grade: Grade, what: str, mend: str, source: str) -> Finding:
    return Finding(f"round-scan.{code}", grade, what, mend, Where(sheet=source))
