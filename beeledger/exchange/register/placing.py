"""Which site each hive row stands at: its own cell, the heading above it, the sheet's title or name."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass, field

from beeledger.base.findings import Where
from beeledger.base.resources import table
from beeledger.base.text import tidy
from beeledger.exchange.figures import is_not_given, shown
from beeledger.exchange.register.blocks import Block, is_ditto, is_total, row_words
from beeledger.exchange.register.cells import looks_like_mark, text_of
from beeledger.exchange.register.colonies import HiveLine, is_hive
from beeledger.exchange.register.headings import Kind
from beeledger.exchange.register.names import SiteNames
from beeledger.exchange.register.records import Remarks
from beeledger.exchange.tables import Line

_COUNT_BEHIND = re.compile(
    r"\s*[(\[,:–-]*\s*\d+\s*(?:hives?|colonies|stocks)?\s*[)\]]?\s*$|\s*[:–-]+\s*$", re.IGNORECASE
)
_LONGEST_HEADING_WORDS = 5


@dataclass(slots=True)
class _Walk:
    """Where the reading of a block stands."""

    heading: str | None = None
    unknown: str = ""
    last: str | None = None
    headings: list[int] = field(default_factory=list)
    passed: list[int] = field(default_factory=list)
    filled_down: list[int] = field(default_factory=list)


def heading_text(line: Line) -> str:
    """The text of a row that may be a heading, without "Apiary:" before and "(12 hives)" behind."""
    texts = [value for index in line.filled() if isinstance(value := line.cell(index), str)]
    text = tidy(texts[0]) if texts else ""
    for word in table("words", "register.toml")["rows"]["heading"]:
        text = re.sub(rf"^{word}\s*[:–-]\s*", "", text, flags=re.IGNORECASE)
    return _COUNT_BEHIND.sub("", text) or text


def place_hives(
    block: Block, names: SiteNames, sheet_site: str | None, remarks: Remarks
) -> tuple[list[HiveLine], list[Line]]:
    """The hive rows of a block with their sites, and its total rows. Rows of no known site are refused."""
    walk = _Walk(heading=sheet_site)
    hives: list[HiveLine] = []
    totals: list[Line] = []
    for line in block.lines:
        if is_total(line):
            totals.append(line)
        elif not _holds_hive(block, line, names):
            _pass(block, line, names, walk, remarks)
        elif (site := _site(block, line, names, walk, remarks)) is not None:
            hives.append(HiveLine(block, line, site))
    _note(block, walk, remarks)
    return hives, totals


def _holds_hive(block: Block, line: Line, names: SiteNames) -> bool:
    if is_hive(block, line):
        return True
    value = block.heads.cell(line, "hive")
    return looks_like_mark(value) and not names.exact(heading_text(line))


def _pass(block: Block, line: Line, names: SiteNames, walk: _Walk, remarks: Remarks) -> None:
    """A row that holds no hive: a heading that names a site, or words."""
    text = heading_text(line)
    meant = names.meant(text)
    if meant is None:
        walk.passed.append(line.number)
        if _could_be_heading(block, line, text, walk):
            walk.heading, walk.unknown = None, text
        return
    if meant.near:
        where = Where(sheet=block.sheet, row=line.number)
        remarks.doubt(
            where, "site-near", f"the heading {text!r} is taken for {meant.name}", "Correct the name"
        )
    walk.heading, walk.unknown = meant.name, ""
    walk.headings.append(line.number)


def _could_be_heading(block: Block, line: Line, text: str, walk: _Walk) -> bool:
    return (
        "site" not in block.heads.columns
        and bool(walk.headings)
        and len(line.filled()) == 1
        and 0 < len(text.split()) <= _LONGEST_HEADING_WORDS
    )


def _site(block: Block, line: Line, names: SiteNames, walk: _Walk, remarks: Remarks) -> str | None:
    value = block.heads.cell(line, "site")
    where = block.where(line, "site")
    if is_not_given(value) or is_ditto(value):
        return _site_above(block, line, walk, remarks, ditto=is_ditto(value))
    meant = names.meant(value)
    if meant is None:
        nearest = names.nearest(value)
        hint = f"Is {nearest} meant? " if nearest else ""
        mend = f"{hint}Correct the name or put the site on the list"
        remarks.refuse(where, "site", f"{text_of(value) or shown(value)!r} is not on the list of sites", mend)
        return None
    if meant.near:
        what = f"{text_of(value)!r} is not on the list of sites; taken for {meant.name}"
        remarks.doubt(where, "site-near", what, "Correct the name")
    elif walk.headings and walk.heading not in (None, meant.name):
        what = f"stands under the heading {walk.heading} but says {meant.name}"
        remarks.doubt(where, "site-heading", what, "Look where the hive stands")
    walk.last = meant.name
    return meant.name


def _site_above(block: Block, line: Line, walk: _Walk, remarks: Remarks, *, ditto: bool) -> str | None:
    if ditto and walk.last:
        return walk.last
    if walk.heading:
        walk.last = walk.heading
        return walk.heading
    if walk.last and not walk.unknown:
        walk.filled_down.append(line.number)
        return walk.last
    if block.heads.kind in (Kind.LOOKS, Kind.QUEENS) and not walk.unknown:
        return ""  # wherever the hive stood that day
    what = f"{walk.unknown!r} is not on the list of sites" if walk.unknown else "the row names no site"
    remarks.refuse(block.where(line, "site"), "site", what, "Write the site the hive stands at")
    return None


def _note(block: Block, walk: _Walk, remarks: Remarks) -> None:
    def place(rows: list[int]) -> Where:
        return Where(sheet=block.sheet, row=rows[0])

    if rows := walk.headings:
        remarks.note(
            place(rows), "headings", f"{row_words(rows)} name a site and hold no hive: read as headings"
        )
    if rows := walk.passed:
        remarks.note(place(rows), "passed-over", f"{row_words(rows)} hold no hive and were passed over")
    if rows := walk.filled_down:
        what = f"the site is blank in {row_words(rows)}; taken from the row above"
        remarks.doubt(
            Where(block.sheet, rows[0], block.heads.column("site")), "site-blank", what, "Write the site"
        )


def sheet_sites(blocks: list[Block], names: SiteNames) -> dict[int, str]:
    """For each block by its place, the site that its title or its sheet's name names, if any."""
    found = {}
    for place, block in enumerate(blocks):
        for text in (block.title, block.sheet):
            site = names.exact(_COUNT_BEHIND.sub("", _without_prefix(text))) or names.exact(text)
            if site:
                found[place] = site
                break
    return found


def _without_prefix(text: str) -> str:
    pattern = "|".join(table("words", "register.toml")["rows"]["heading"])
    return re.sub(rf"^({pattern})\s*[:–-]?\s+", "", text, flags=re.IGNORECASE)


def names_from_hives(blocks: list[Block]) -> list[tuple[str, Where]]:
    """Site names where there is no site list: out of hive rows, headings, titles and sheet names."""
    titles = Counter(block.title for block in blocks)
    names: list[tuple[str, Where]] = []
    for block in blocks:
        title = [_from_title(block, titles)] if block.heads.kind is Kind.HIVES else []
        names += _from_column(block) or _from_headings(block) or title
    return names


def _from_column(block: Block) -> list[tuple[str, Where]]:
    if "site" not in block.heads.columns:
        return []
    return [
        (text_of(value), block.where(line, "site"))
        for line in block.lines
        if is_hive(block, line)
        and not is_not_given(value := block.heads.cell(line, "site"))
        and not is_ditto(value)
        and not is_total(line)
    ]


def _from_headings(block: Block) -> list[tuple[str, Where]]:
    found = []
    for line in block.lines:
        text = heading_text(line)
        lone = len(line.filled()) <= 2 and not is_total(line) and not is_hive(block, line)
        if lone and text and not looks_like_mark(text) and len(text.split()) <= _LONGEST_HEADING_WORDS:
            found.append((text, Where(sheet=block.sheet, row=line.number)))
    # Words above the first hive head it; words at the end alone head nothing.
    first_hive = next((line.number for line in block.lines if is_hive(block, line)), 0)
    return found if found and (found[0][1].row or 0) < first_hive else []


def _from_title(block: Block, titles: Counter[str]) -> tuple[str, Where]:
    named_by_title = (
        block.title and titles[block.title] == 1 and len(block.title.split()) <= _LONGEST_HEADING_WORDS
    )
    text = block.title if named_by_title else block.sheet
    text = _COUNT_BEHIND.sub("", _without_prefix(text)) or text
    return text, Where(sheet=block.sheet)
