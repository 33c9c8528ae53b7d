"""The three daily jobs of the office, done without a window: the evening's round, labels, a movement report.

What is typed at a desk stands here as the quick lines, weights and counts of one invented day; everything goes
through the same readings, acts and documents.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING

from beeledger.base.errors import CannotNow
from beeledger.cli.papers import Wish
from beeledger.cli.printing import write_document
from beeledger.reporting.catalogue import Form, document

if TYPE_CHECKING:
    from sqlalchemy.orm import Session

    from beeledger.database.ledger import Ledger
    from beeledger.operations.rounds import Line
    from beeledger.queries.honey import LotLine
    from beeledger.queries.records.round_desk import HiveLine

_BOTH = (Form.PDF, Form.WORKBOOK)
_JAR_G, _JARS_WEIGHED, _LEFT_IN_TANK_G = 454, 50, 900
_AHEAD_DAYS = 14
_EMPTY_SUPER_G, _SUPER_G, _BUCKET_G = 6_200, 8_000, 1_100


def do_the_jobs(ledger: Ledger, out: Path, seed: int) -> list[Path]:
    """Do the three on a ledger, which is written to; returns the files."""
    dice = Random(seed)  # noqa: S311  # chance, not secrets
    return [*evening(ledger, out, dice), *labels(ledger, out, dice), *report(ledger, out)]


def evening(ledger: Ledger, out: Path, dice: Random) -> Iterator[Path]:
    """Job 1: the yard with most to do is visited and its sheet typed hive by hive as quick lines."""
    from beeledger.operations.act import perform
    from beeledger.operations.rounds import RoundToPost, post_round
    from beeledger.queries.due import due_by_site
    from beeledger.queries.rounds import sheet_for
    from beeledger.queries.sites import open_sites

    today = ledger.clock.today()
    with ledger.read() as session:
        yards = {site.site_id for site in open_sites(session) if site.kind != "crop"}
        due = [site.site_id for site in due_by_site(session, today, _AHEAD_DAYS) if site.site_id in yards]
        if not due:
            raise CannotNow("Nothing is due at any yard of this ledger.", "Use the sample farm.")
        sheet = sheet_for(session, due[0], today)
    lines = tuple(_typed(hive, dice, today) for hive in sheet.lines)
    new = RoundToPost(
        f"headless {today}", sheet.site_id, today, lines, start_minute=9 * 60 + 30, end_minute=11 * 60 + 40,
        crew="JO", weather="sunny spells, 17 °C",
    )  # fmt: skip
    posted = perform(ledger, post_round, new).result
    summary = Wish(str(posted.round_id), today)
    yield from write_document(ledger, document("round-summary"), summary, out, _BOTH)


def _typed(hive: HiveLine, dice: Random, day: date) -> Line:
    """One line of the sheet as it is typed, read back by the same reader as at the desk."""
    from beeledger.operations.rounds import Line
    from beeledger.rules.rounds.normal import habits_for
    from beeledger.rules.rounds.reading import parse

    text = _quick_line(hive, dice)
    reading = parse(text, habits_for(day))
    if not reading.ok:
        raise ValueError(f"{text!r} was not understood: {reading.problems[0].problem}")
    return Line(reading.entry, colony_id=hive.colony_id)


def _quick_line(hive: HiveLine, dice: Random) -> str:
    """What somebody might type of a hive in May: queen, eggs, brood, bees, stores and temper, cells; sometimes more."""
    from beeledger.rules.rounds.entry import QueenState

    figures = f"{dice.randint(1, 3)} {dice.randint(3, 5)} {dice.randint(4, 7)} {dice.choice((1, 1, 2, 2, 3))}"
    if hive.queen.state is QueenState.QUEENLESS:
        return f"q/n e- {figures}"
    if hive.kind != "full":
        return f"q- e {figures} c-"
    brood, bees, stores = dice.randint(5, 8), dice.randint(8, 11), dice.randint(6, 15)
    line = f"q{dice.choice(('', '-'))} e {brood} {bees} {stores} {dice.choice((1, 1, 2, 2, 3))} c-"
    extra = dice.random()
    return f"{line} +" if extra < 0.15 else f"{line}; brood even" if extra < 0.2 else line


def labels(ledger: Ledger, out: Path, dice: Random) -> Iterator[Path]:
    """Job 2: supers are weighed and extracted; a drum is run into a tank, read, jarred and labelled."""
    from beeledger.operations.act import perform
    from beeledger.operations.honey import NewBlend, NewReading, blend, read_lot
    from beeledger.operations.honey_lots import Draw, Spent
    from beeledger.operations.labels import LabelCount, NewBatch, jar_batch, print_labels, weigh_jars

    today = ledger.clock.today()
    _weigh_and_extract(ledger, dice)
    with ledger.read() as session:
        drum = _fullest_drum(session)
    tank = perform(ledger, blend, NewBlend(today, (Draw(drum.id, drum.left_g),), f"tank, {today}")).result
    moisture = drum.moisture_hundredths or 1750
    perform(ledger, read_lot, NewReading(tank, "moisture", today, moisture, source="own refractometer"))
    jars = (drum.left_g - _LEFT_IN_TANK_G) // (_JAR_G + 1)
    new = NewBatch(
        tank,
        today,
        _JAR_G,
        jars,
        "Summer honey",
        drawn_g=drum.left_g,
        spent=(Spent("foam", _LEFT_IN_TANK_G),),
    )
    batch = perform(ledger, jar_batch, new).result
    weights = [round(10 * dice.gauss(_JAR_G + 1.5, 0.8)) for _ in range(min(_JARS_WEIGHED, jars))]
    perform(ledger, weigh_jars, batch, weights)
    perform(ledger, print_labels, LabelCount(batch, printed=jars, used=jars))
    wish = Wish(str(batch), today)
    yield from write_document(ledger, document("label-sheet"), wish, out, (Form.PDF,))
    yield from write_document(ledger, document("batch-record"), wish, out, _BOTH)


def _weigh_and_extract(ledger: Ledger, dice: Random) -> None:
    from beeledger.operations.act import perform
    from beeledger.operations.honey import Filled, NewExtraction, extract_run
    from beeledger.operations.takes import NewWeighing, Weighed, weigh_take
    from beeledger.queries.takes import takes

    today = ledger.clock.today()
    with ledger.read() as session:
        waiting = takes(session, unweighed=True)
    # The newest take, of the last day, still waits for its turn.
    for take in waiting[1:]:
        tare = take.supers * _EMPTY_SUPER_G
        net = (take.estimate_g or take.supers * _SUPER_G) // 50 * 50
        weighed = Weighed(tare + max(net, 1_000), tare)
        lot = perform(ledger, weigh_take, NewWeighing(take.id, today, (weighed,))).result
        filled = Filled(f"bucket {take.id}", weighed.net_g * 96 // 100 + _BUCKET_G, _BUCKET_G, "bucket",
                        moisture_hundredths=1700 + 10 * dice.randint(0, 15))  # fmt: skip
        perform(ledger, extract_run, NewExtraction(today, (lot,), (filled,)))


def _fullest_drum(session: Session) -> LotLine:
    from beeledger.queries.honey import lots

    drums = [lot for lot in lots(session, ("drum",)) if not lot.hold]
    if not drums:
        raise CannotNow("There is no drum of honey in this ledger.", "Use the sample farm.")
    return max(drums, key=lambda lot: (lot.left_g, lot.id))


def report(ledger: Ledger, out: Path) -> Iterator[Path]:
    """Job 3: the hives of a contract come home to the yards they came from, and the report is made."""
    from beeledger.operations.act import perform
    from beeledger.operations.moves import post_move
    from beeledger.queries.records.move_desk import NewMove, carried

    today = ledger.clock.today()
    with ledger.read() as session:
        contract, site_id, by_yard = _standing_out(session, today)
    minute = 5 * 60
    for yard, colonies in by_yard.items():
        move = NewMove(
            site_id, yard, today, minute, minute + 75, carried(colonies), reason="home", contract_id=contract
        )
        perform(ledger, post_move, move)
        minute += 90
    yield from write_document(ledger, document("movement-report"), Wish(str(contract), today), out, _BOTH)


def _standing_out(session: Session, today: date) -> tuple[int, int, dict[int, list[int]]]:
    """The newest contract with hives on its crop, its site, and the hives by the yard they came from."""
    from beeledger.queries.contract_list import list_contracts
    from beeledger.queries.contracts import contract_card, report_record
    from beeledger.queries.sites import open_sites

    sites = {site.name: site.site_id for site in open_sites(session)}
    for row in sorted(list_contracts(session, today), key=lambda row: row.terms.on, reverse=True):
        card = contract_card(session, row.id, today) if row.terms.on <= today else None
        if card is None or not card.hives:
            continue
        came = {
            stay.hive: stay.came_from for stay in report_record(session, row.id, today).stays if not stay.off
        }
        by_yard: dict[int, list[int]] = {}
        for hive in card.hives:
            if came.get(hive.mark) in sites:
                by_yard.setdefault(sites[came[hive.mark]], []).append(hive.colony_id)
        return row.id, row.site_id, by_yard
    raise CannotNow("No hives stand on a crop in this ledger.", "Use the sample farm.")
