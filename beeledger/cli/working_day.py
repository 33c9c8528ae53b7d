"""A day's work on an empty ledger, step by step, as the self-test does it. Everything in it is invented."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

import beeledger
from beeledger.base.clock import Clock
from beeledger.base.text import counted
from beeledger.cli.papers import Wish
from beeledger.cli.printing import write_document
from beeledger.reporting.catalogue import DOCUMENTS, Form, document

if TYPE_CHECKING:
    from beeledger.database.ledger import Ledger
    from beeledger.operations.act import Done

_MARKS = ("1", "2", "3", "4", "5", "6")
_FARM = {
    "name": "Trial farm",
    "lot_prefix": "TR",
    "address": ("Trial barn", "Nowhere"),
    "contact": "the office",
}
_LINES = ("q e 7 10 3 2 c-", "q- e 6 9 4 1 c-", "q e 5 8 6 2 c- +")
"""Typed of the first hives in the evening, as quick lines."""
_SUPERS, _TARE_G, _NET_G, _BUCKET_G = 3, 18_600, 24_000, 1_100
_JAR_G, _JARS, _LEAST_SIZE = 454, 40, 800
_WINDOW_S = 300
_PICTURES = (
    "import sys; from pathlib import Path; from datetime import datetime; "
    "from beeledger.base.clock import CarriedClock; from beeledger.ui.frame.pictures import picture_places; "
    "clock = CarriedClock(datetime.fromisoformat(sys.argv[2])); "
    "print(len(picture_places(sys.argv[1], clock, Path(sys.argv[3]))))"
)


@dataclass(slots=True)
class Day:
    """What one step leaves for the next."""

    folder: Path
    clock: Clock
    ledger: Ledger | None = None
    ids: dict[str, Any] = field(default_factory=dict)

    @property
    def open(self) -> Ledger:
        """The ledger; without it nothing can be tried."""
        if self.ledger is None:
            raise LookupError("there is no ledger")
        return self.ledger

    @property
    def file(self) -> Path:
        """The ledger's file."""
        return self.folder / "trial.beeledger"

    def close(self) -> None:
        """Let go of the file."""
        if self.ledger is not None:
            self.ledger.close()
            self.ledger = None

    def do(self, operation: Callable[..., str], *said: Any) -> Done:
        """Carry out an act."""
        from beeledger.operations.act import perform

        return perform(self.open, operation, *said)


@dataclass(frozen=True, slots=True)
class Step:
    """What is tried, in words, and the work: it returns a detail, and raises where it goes wrong."""

    words: str
    work: Callable[[Day], str]


def make(day: Day) -> str:
    """A new ledger, with the farm's name for its labels."""
    from beeledger.database.opening import open_ledger
    from beeledger.operations.farm import set_farm

    day.ledger = open_ledger(day.file, day.clock, desk="self-test")
    day.do(set_farm, dict(_FARM))
    return f"Python {sys.version.split()[0]}, BeeLedger {beeledger.__version__}"


def set_up(day: Day) -> str:
    """Two sites and six hives."""
    from beeledger.operations.colonies import found_colonies, hives_at
    from beeledger.operations.sites import NewSite, add_site

    spring = day.clock.today() - timedelta(days=50)
    day.ids["yard"] = day.do(add_site, NewSite("Trial yard")).result
    day.ids["crop"] = day.do(add_site, NewSite("Trial orchard", kind="crop")).result
    day.ids["hives"] = day.do(
        found_colonies, hives_at(day.ids["yard"], spring, _MARKS, queen_year=spring.year - 1)
    ).result
    return f"{counted(len(day.ids['hives']), 'hive')} at 2 sites"


def type_round(day: Day) -> str:
    """Quick lines read as at the desk, and posted."""
    from beeledger.operations.rounds import Line, RoundToPost, post_round
    from beeledger.rules.rounds.normal import habits_for
    from beeledger.rules.rounds.reading import parse

    today = day.clock.today()
    readings = [parse(text, habits_for(today)) for text in _LINES]
    wrong = [text for text, reading in zip(_LINES, readings, strict=True) if not reading.ok]
    if wrong:
        raise ValueError(f"{wrong[0]!r} was not understood")
    lines = tuple(
        Line(reading.entry, colony_id=hive) for reading, hive in zip(readings, day.ids["hives"], strict=False)
    )
    return day.do(post_round, RoundToPost("self-test", day.ids["yard"], today, lines)).sentence


def harvest(day: Day) -> str:
    """Supers off the site, on the scale, through the extractor."""
    from beeledger.operations.honey import Filled, NewExtraction, NewReading, extract_run, read_lot
    from beeledger.operations.takes import NewTake, NewTakeLine, NewWeighing, Weighed, record_take, weigh_take

    today = day.clock.today()
    take = day.do(record_take, NewTake(day.ids["yard"], today, (NewTakeLine(_SUPERS),))).result
    weighed = day.do(weigh_take, NewWeighing(take, today, (Weighed(_TARE_G + _NET_G, _TARE_G),))).result
    filled = Filled(
        "trial bucket", _NET_G * 96 // 100 + _BUCKET_G, _BUCKET_G, "bucket", moisture_hundredths=1720
    )
    day.do(extract_run, NewExtraction(today, (weighed,), (filled,)))
    from beeledger.queries.honey import lots

    with day.open.read() as session:
        day.ids["lot"] = lots(session, ("bucket",))[0].id
    day.do(read_lot, NewReading(day.ids["lot"], "moisture", today, 1720, source="trial"))
    return f"{_NET_G / 1000:.1f} kg weighed"


def jar(day: Day) -> str:
    """Forty jars from the bucket, and their labels counted."""
    from beeledger.base.errors import Refused
    from beeledger.operations.labels import LabelCount, NewBatch, jar_batch, print_labels

    new = NewBatch(day.ids["lot"], day.clock.today(), _JAR_G, _JARS)
    try:
        done = day.do(jar_batch, new)
    except Refused as asked:  # it asks of what a farm may have decided: a best-before, an address
        done = day.do(jar_batch, replace(new, accepted=frozenset(found.code for found in asked.findings)))
    day.ids["batch"] = done.result
    day.do(print_labels, LabelCount(done.result, printed=_JARS, used=_JARS))
    return done.sentence


def scan(day: Day) -> str:
    """The label sheet as it would be printed, its codes read back."""
    from beeledger.queries.labels import batches
    from beeledger.reporting.pictures import codes_on

    with day.open.read() as session:
        mark = batches(session)[0].lot_mark
    wish = Wish(str(day.ids["batch"]), day.clock.today(), count=4)
    (sheet,) = write_document(day.open, document("label-sheet"), wish, day.folder, (Form.PDF,))
    codes = codes_on(sheet.read_bytes())
    if len(codes) != 4 or not all(mark in code for code in codes):
        raise ValueError(f"the codes say {codes}, not {mark}")
    return f"4 codes say {mark}"


def hire_out(day: Day) -> str:
    """A contract, and hives taken to its crop in the night."""
    from beeledger.operations.contracts import NewContract, add_contract
    from beeledger.operations.moves import post_move
    from beeledger.operations.parties import NewParty, add_party
    from beeledger.queries.records.move_desk import NewMove, carried

    today = day.clock.today()
    grower = day.do(add_party, NewParty("Trial grower", ("grower",))).result
    new = NewContract(
        "Trial apples", grower, day.ids["crop"], "apple", 2, today, today + timedelta(days=20), 3_000
    )
    day.ids["contract"] = day.do(add_contract, new).result
    move = NewMove(
        day.ids["yard"], day.ids["crop"], today, 60, 120, carried(day.ids["hives"][4:]), reason="crop",
        contract_id=day.ids["contract"], exempt=True,
    )  # fmt: skip
    return day.do(post_move, move).sentence


def print_papers(day: Day) -> str:
    """Every document of which this ledger has a record, in each of its forms."""
    from beeledger.base.errors import CannotNow

    papers = day.folder / "papers out"
    written, without = [], []
    for about in DOCUMENTS:
        try:
            written += write_document(day.open, about, Wish("", day.clock.today()), papers, about.forms)
        except CannotNow:
            without.append(about.key)  # nothing of its kind was done this day
    small = [file.name for file in written if file.stat().st_size < _LEAST_SIZE]
    expected = {"movement-report", "round-sheet", "round-summary", "label-sheet", "batch-record"}
    if small or expected & set(without):
        raise ValueError(f"empty: {small}; not written: {without}")
    return counted(len(written), "file")


def take_back(day: Day) -> str:
    """An act taken back, and brought again."""
    from beeledger.operations.sites import NewSite, add_site
    from beeledger.operations.undo import undo
    from beeledger.queries.sites import open_sites

    def count() -> int:
        with day.open.read() as session:
            return len(open_sites(session))

    before = count()
    done = day.do(add_site, NewSite("A site by mistake"))
    back = undo(day.open, done.act)
    if count() != before:
        raise ValueError("the site is still there")
    undo(day.open, back.act)
    if count() != before + 1:
        raise ValueError("the site did not come again")
    return back.sentence


def check(day: Day) -> str:
    """All that must always be true."""
    from beeledger.operations.checking import check_whole

    report = check_whole(day.open)
    if report.findings:
        raise ValueError("; ".join(finding.sentence() for finding in report.findings))
    return counted(len(report.lines), "line")


def keep_safe(day: Day) -> str:
    """A backup, an act that is not in it, and the backup put back."""
    from beeledger.database.backup import backup, restore
    from beeledger.database.opening import open_ledger
    from beeledger.operations.sites import NewSite, add_site

    held = day.open.last_act()
    copy = backup(day.open)
    day.do(add_site, NewSite("Not in the backup"))
    day.close()
    aside = restore(copy, day.file, day.clock)
    day.ledger = open_ledger(day.file, day.clock, create=False, desk="self-test")
    if day.ledger.last_act() != held or aside is None:
        raise ValueError("the ledger is not as it was backed up")
    return f"{copy.stat().st_size / 1e6:.1f} MB, restored"


def look(day: Day) -> str:
    """Every place of the window drawn without a screen, by a program of its own: a missing library ends only that."""
    day.close()
    surroundings = os.environ | {
        "QT_QPA_PLATFORM": "offscreen",
        "BEELEDGER_DESK": str(day.folder / "desk"),
        "PYTHONPATH": os.pathsep.join(
            [str(Path(beeledger.__file__).parents[1]), os.environ.get("PYTHONPATH", "")]
        ),
    }
    words = [
        sys.executable,
        "-c",
        _PICTURES,
        str(day.file),
        day.clock.now().isoformat(),
        str(day.folder / "places"),
    ]
    done = subprocess.run(  # noqa: S603  # this very program
        words, env=surroundings, capture_output=True, text=True, check=False, timeout=_WINDOW_S
    )
    if done.returncode or done.stderr.strip():
        sys.stderr.write(done.stderr)  # the whole of it: its last line alone seldom names the cause
        raise ValueError(
            "; ".join(done.stderr.split("\n")[-4:]).strip("; ") or f"it ended with {done.returncode}"
        )
    return f"{done.stdout.strip()} places"


STEPS = (
    Step("a new ledger is made", make),
    Step("sites and hives are written down", set_up),
    Step("a round is typed and posted", type_round),
    Step("supers are taken, weighed and extracted", harvest),
    Step("honey is jarred", jar),
    Step("labels are drawn, and a scanner reads them", scan),
    Step("hives go to a crop by contract", hire_out),
    Step("every paper there is a record for is written", print_papers),
    Step("an act is taken back, and brought again", take_back),
    Step("the ledger checks clean", check),
    Step("a backup is written, checked and restored", keep_safe),
    Step("the window opens at every place", look),
)
