"""What the head of a round says in the band over the grid, and what F1 tells of the place."""

from __future__ import annotations

from beeledger.base.dates import short
from beeledger.base.text import shortened
from beeledger.ui.places.rounds.new_round import time_words
from beeledger.ui.places.rounds.state import Head

HELP = (
    "<p>With no sheet open, the sites where a visit is due are listed, the worst first; Enter opens a sheet for it.</p>"
    "<p>Each line is a hive. In each cell the last figure stands left, today’s right; blank is not nought: "
    "nobody looked. One quick line holds the whole visit in any order; F2 changes between it and the cells.</p>"
    "<p>What cannot be true holds its line. What is against the record is accepted with F4, and the record is "
    "corrected in the same post. ? keeps a line for the crew; the rest posts.</p>"
    "<p>F7 says what was done at every hive alike, as a line of one hive would: l2 fed two litres to each. It goes "
    "to all but the dead, the lost and the strangers, and fills only what a line leaves blank. A hive that only got "
    "feed counts as fed, not opened.</p>"
    "<p>Ctrl Shift S reads round sheets that were scanned or photographed (PDF, JPEG, PNG; 200 dpi, all four corners). "
    "What is surely ticked is filled in. Each other mark is shown cut out: F3, then Y or N. What was written by hand "
    "is typed from the picture of its line beside the grid.</p>"
    "<p>Ctrl O opens a round that was posted, also weeks ago. What was posted stands in the grid; the correction "
    "takes its place, and the old version stays in History.</p>"
)


def head_words(head: Head) -> str:
    """Which visit, when, who, and what was said of the whole site."""
    times = " to ".join(part for part in (time_words(head.start_minute), time_words(head.end_minute)) if part)
    visit = "Visit" if head.corrects is None else "Correcting the round of"
    parts = [f"{visit} {short(head.on)}" + (f", {times}" if times else "")]
    parts += [f"crew {head.crew}"] if head.crew else []
    parts += [f"whole site {shortened(head.each_text, 24)}"] if head.each_text else []
    return " · ".join(parts)
