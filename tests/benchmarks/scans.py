"""How well scanned round sheets are read: ``python -m tests.benchmarks.scans [scans] [seed]``.

Made scans: 200 dpi, turned up to 4 degrees, seen from the side, blurred, shaded, noisy, JPEG 60; ticks, crosses,
fills and slashes in pens of several sorts, and stray lines. Says the share of marks right among those read as
sure, how many a person is asked about, what an empty sheet says, and the seconds a page.
"""

from __future__ import annotations

import io
import sys
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from random import Random

from PIL import Image

from beeledger.exchange.scans.reading import read_page
from beeledger.exchange.scans.records import Says
from beeledger.reporting.documents.round_sheet import render_pdf
from tests.builders.scans import Printed, filled, printed_pages, scanned
from tests.reporting.examples import FARM, MADE, sheet

SCANS, SEED, EMPTY = 200, 4211, 20


def sheet_pages(hives: int = 31) -> list[Printed]:
    """A usual sheet, printed."""
    record = sheet(hives)
    lines = tuple(replace(line, colony_id=1200 + 37 * at) for at, line in enumerate(record.lines))
    return printed_pages(render_pdf(replace(record, site_id=14, lines=lines), FARM, MADE))


def outcomes(
    pages: list[Printed], scans: int, seed: int, *, share: float = 0.35, strays: int = 4
) -> Iterator[Counter[str]]:
    """What came of each scan: boxes by how they were read, and the milliseconds."""
    chance = Random(seed)
    for at in range(scans):
        page = pages[at % len(pages)]
        paper, truth = filled(page, chance, share=share, strays=strays)
        data = scanned(paper, chance, upside_down=at % 10 == 9)
        yield read_against(data, truth)


def read_against(data: bytes, truth: list[bool]) -> Counter[str]:
    """One scan read and held against what was drawn."""
    begun = time.perf_counter()
    page = read_page(Image.open(io.BytesIO(data)).convert("L"), "scan", [])
    told = Counter(milliseconds=round(1000 * (time.perf_counter() - begun)))
    if page is None or len(page.marks) != len(truth):
        told["pages lost"] += 1
        return told
    for mark, there in zip(page.marks, truth, strict=True):
        if not mark.sure:
            told["asked marked" if there else "asked blank"] += 1
        elif (mark.says is Says.MARKED) is there:
            told["right"] += 1
        else:
            told["missed" if there else "invented"] += 1
    return told


def main(arguments: list[str]) -> None:
    """Measure and say."""
    scans = int(arguments[0]) if arguments else SCANS
    seed = int(arguments[1]) if len(arguments) > 1 else SEED
    pages = sheet_pages()
    for name, number, share, strays in (
        ("filled", scans, 0.35, 4),
        ("empty", max(EMPTY, scans // 10), 0.0, 0),
    ):
        each = list(outcomes(pages, number, seed, share=share, strays=strays))
        sums = sum(each, Counter())
        slow = sorted(one["milliseconds"] for one in each)
        sure = sums["right"] + sums["missed"] + sums["invented"]
        asked = sums["asked marked"] + sums["asked blank"]
        print(
            f"{name}: {number} scans, {sure + asked} boxes; sure {sure}, right {sums['right']} "
            f"({sums['right'] / max(sure, 1):.4%}), missed {sums['missed']}, invented {sums['invented']}; asked "
            f"{sums['asked marked']} marked, {sums['asked blank']} blank; pages lost {sums['pages lost']}; "
            f"median {slow[len(slow) // 2]} ms, worst {slow[-1]} ms"
        )


if __name__ == "__main__":
    main(sys.argv[1:])
