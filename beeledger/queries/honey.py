"""Lots of honey: what is in each, what was read of it, and the farm's balance of a season."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from sqlalchemy import func, select
from sqlalchemy.orm import Session, aliased

from beeledger.base import units
from beeledger.base.text import counted
from beeledger.model.honey import HoneyLot, HoneyTransfer, Reading, Take
from beeledger.model.sites import Site
from beeledger.queries.records.batch_record import BatchReading
from beeledger.queries.trace import Ancestry
from beeledger.rules import honey_composition
from beeledger.rules.honey import Portion, blended_moisture, colour_name
from beeledger.rules.honey_composition import Kind, Verdict

CRITERIA: Mapping[str, str] = {
    "moisture": "moisture_hundredths", "hmf": "hmf_tenths", "conductivity": "conductivity_us_cm",
    "sucrose": "sucrose_hundredths", "diastase": "diastase_tenths", "free acid": "free_acid_tenths",
}  # fmt: skip
"""Readings that the law has a limit for, and where the rules keep them."""
SCALES: Mapping[str, tuple[str, str, int, int]] = {
    "moisture": ("Moisture", "%", 100, 1), "hmf": ("HMF", "mg/kg", 10, 1),
    "colour": ("Colour", "mm Pfund", 10, 0), "conductivity": ("Conductivity", "mS/cm", 1000, 2),
    "sucrose": ("Sucrose", "g/100 g", 100, 1), "diastase": ("Diastase", "Schade", 10, 1),
    "free acid": ("Free acid", "meq/kg", 10, 1),
}  # fmt: skip
"""Name, unit, scale and decimals shown of each reading."""


@dataclass(frozen=True, slots=True)
class LotLine:
    """A lot: what came in, what is left, and what was last read of its moisture."""

    id: int
    kind: str
    name: str
    opened_on: date
    honey_kind: str
    in_g: int
    left_g: int
    moisture_hundredths: int | None
    hold: str | None
    site: str = ""
    taken_on: date | None = None
    take_id: int | None = None


@dataclass(frozen=True, slots=True)
class ReadingLine:
    """One reading as it was written."""

    lot_id: int
    kind: str
    on: date
    value: int
    refractive_index_e5: int | None
    temperature_tenths: int | None
    source: str | None

    def how(self) -> str:
        """How it was got: "refractometer, at 20.4 °C, corrected"."""
        if self.refractive_index_e5 is None:
            return self.source or ""
        at = "" if self.temperature_tenths is None else f", at {units.degrees(self.temperature_tenths)} °C"
        return f"{self.source or 'refractometer'}{at}, corrected"


@dataclass(frozen=True, slots=True)
class SeasonBalance:
    """What was there and came in, and where it is now: the two sums are the same."""

    before_g: int
    """What was held when the period began."""
    came_g: int
    """Weighed in, bought, or written in as there before, since."""
    held_g: Mapping[str, int]
    """What is left, by the kind of lot: supers, drum, tank, bucket, jarring."""
    spent_g: Mapping[str, int]
    """What left for good, by sink."""

    @property
    def difference_g(self) -> int:
        """In less all that is accounted for: nought when it balances."""
        return self.before_g + self.came_g - sum(self.held_g.values()) - sum(self.spent_g.values())


def lots(
    session: Session, kinds: Sequence[str] = (), *, with_honey: bool = True, limit: int = 500
) -> tuple[LotLine, ...]:
    """Lots by kind, newest first; ``with_honey``: only those that hold some. One statement."""
    came = (
        select(func.coalesce(func.sum(HoneyTransfer.grams), 0))
        .where(HoneyTransfer.to_lot_id == HoneyLot.id)
        .correlate(HoneyLot)
        .scalar_subquery()
    )
    gone = (
        select(func.coalesce(func.sum(HoneyTransfer.grams), 0))
        .where(HoneyTransfer.from_lot_id == HoneyLot.id)
        .correlate(HoneyLot)
        .scalar_subquery()
    )
    read = aliased(Reading)
    moisture = (
        select(read.value)
        .where(read.lot_id == HoneyLot.id, read.kind == "moisture")
        .order_by(read.on.desc(), read.id.desc())
        .limit(1)
        .correlate(HoneyLot)
        .scalar_subquery()
    )
    query = (
        select(
            HoneyLot.id, HoneyLot.kind, HoneyLot.name, HoneyLot.opened_on, HoneyLot.honey_kind, came, came - gone,
            moisture, HoneyLot.hold, Site.name, Take.on, HoneyLot.take_id,
        )
        .outerjoin(Take, Take.id == HoneyLot.take_id)
        .outerjoin(Site, Site.id == Take.site_id)
        .order_by(HoneyLot.opened_on.desc(), HoneyLot.id.desc())
        .limit(limit)
    )  # fmt: skip
    if kinds:
        query = query.where(HoneyLot.kind.in_(kinds))
    if with_honey:
        query = query.where(came > gone)
    return tuple(
        LotLine(
            row[0], row[1], row[2], row[3], row[4], int(row[5]), int(row[6]), row[7], row[8], row[9] or "", row[10],
            row[11],
        )
        for row in session.execute(query).all()
    )  # fmt: skip


def season_balance(session: Session, since: date) -> SeasonBalance:
    """What was there on a day and came in since, and where it is now: four statements."""
    total = func.coalesce(func.sum(HoneyTransfer.grams), 0)
    began = HoneyTransfer.origin.is_not(None)
    came = int(session.scalar(select(total).where(began, HoneyTransfer.on >= since)) or 0)
    # Each by its own index: what began is few, what was spent is many.
    before, gone = (
        select(total).where(end, HoneyTransfer.on < since).scalar_subquery()
        for end in (began, HoneyTransfer.sink.is_not(None))
    )
    held_before = session.scalar(select(before - gone))
    spent = session.execute(
        select(HoneyTransfer.sink, total)
        .where(HoneyTransfer.sink.is_not(None), HoneyTransfer.on >= since)
        .group_by(HoneyTransfer.sink)
    )
    return SeasonBalance(
        int(held_before or 0), came, _held(session), {sink or "": int(grams) for sink, grams in spent}
    )


def _held(session: Session) -> dict[str, int]:
    """What is left in all lots, by their kind: one statement, each lot's sums by index alone."""
    came, gone = (
        select(func.coalesce(func.sum(HoneyTransfer.grams), 0))
        .where(end == HoneyLot.id)
        .correlate(HoneyLot)
        .scalar_subquery()
        for end in (HoneyTransfer.to_lot_id, HoneyTransfer.from_lot_id)
    )
    rows = session.execute(select(HoneyLot.kind, func.sum(came - gone)).group_by(HoneyLot.kind))
    return {kind: int(grams) for kind, grams in rows if int(grams)}


def readings_of(session: Session, lot_ids: Sequence[int]) -> dict[int, dict[str, ReadingLine]]:
    """The last reading of each kind of each lot: one statement."""
    rows = session.execute(
        select(
            Reading.lot_id, Reading.kind, Reading.on, Reading.value, Reading.refractive_index_e5,
            Reading.temperature_tenths, Reading.source,
        )
        .where(Reading.lot_id.in_(lot_ids))
        .order_by(Reading.on, Reading.id)
    )  # fmt: skip
    found: dict[int, dict[str, ReadingLine]] = defaultdict(dict)
    for row in rows:
        found[row.lot_id][row.kind] = ReadingLine(*row)
    return dict(found)


def blend_readings(
    known: Ancestry, readings: Mapping[int, Mapping[str, ReadingLine]]
) -> tuple[BatchReading, ...]:
    """What was read of a lot, or failing that of what it was made of, against the limits of its kind.

    A moisture that was read of every lot behind is reckoned by weight; what was read of one lot only
    is told as that lot's.
    """
    kind = Kind(known.lots[known.target].honey_kind)
    found = (_blend_reading(known, readings, what, kind) for what in SCALES)
    return tuple(each for each in found if each is not None)


def moisture_of(known: Ancestry, readings: Mapping[int, Mapping[str, ReadingLine]]) -> int | None:
    """The moisture of a lot in hundredths: read, or reckoned by weight from what it was made of."""
    nearest = _nearest(known, readings, "moisture")
    return _mean(nearest) if nearest and None not in nearest.values() else None


def figure(what: str, value: int) -> str:
    """A reading with its unit: "17.6 %", "31 mm Pfund, white"."""
    _, unit, scale, places = SCALES[what]
    text = f"{units.scaled(value, scale, places)} {unit}"
    return f"{text}, {colour_name(round(value / 10))}" if what == "colour" else text


_Nearest = dict[tuple[int, int], ReadingLine | None]
"""By lot and grams, the reading of that lot; None where nobody read it."""


def _nearest(
    known: Ancestry, readings: Mapping[int, Mapping[str, ReadingLine]], what: str
) -> _Nearest | None:
    """The first step back at which something was read: None when nothing ever was."""
    front = {known.target: known.came_g(known.target)}
    while front:
        step = {(lot, grams): readings.get(lot, {}).get(what) for lot, grams in front.items()}
        if any(reading is not None for reading in step.values()):
            return step
        back: dict[int, int] = defaultdict(int)
        for lot in front:
            for source, grams in known.sources_of(lot).items():
                back[source] += grams
        front = dict(back)
    return None


def _blend_reading(
    known: Ancestry, readings: Mapping[int, Mapping[str, ReadingLine]], what: str, kind: Kind
) -> BatchReading | None:
    nearest = _nearest(known, readings, what)
    if nearest is None:
        return None
    read = {lot: each for (lot, _), each in nearest.items() if each is not None}
    if len(nearest) == 1:
        one = next(iter(read.values()))  # all of the honey went through that lot
        return _told(what, one.value, kind, one.on, one.how())
    newest = max(each.on for each in read.values())
    if what == "moisture" and len(read) == len(nearest):
        return _told(what, _mean(nearest), kind, newest, f"by weight from {counted(len(read), 'lot')}")
    lot, one = max(read.items(), key=lambda item: known.came_g(item[0]))
    told = _told(what, one.value, kind, one.on, f"from {known.lots[lot].name} only")
    return BatchReading(told.what, told.value, told.limit, None, told.on, told.source)


def _told(what: str, value: int, kind: Kind, on: date, how: str) -> BatchReading:
    verdict = verdict_of(what, value, kind)
    limit = "" if verdict is None else verdict.allowed().removesuffix(" allowed").removesuffix(" required")
    met = None if verdict is None or (verdict.limit.least is verdict.limit.most is None) else verdict.met
    return BatchReading(SCALES[what][0], figure(what, value), limit, met, on, how)


def verdict_of(what: str, value: int, kind: Kind) -> Verdict | None:
    """A reading against the law's limit for a kind of honey; None where the law sets none."""
    if what not in CRITERIA:
        return None
    reading = honey_composition.Reading(**{CRITERIA[what]: value})
    wanted = what.replace(" ", "_")
    return next(each for each in honey_composition.judge(reading, kind) if each.criterion == wanted)


def _mean(nearest: _Nearest) -> int:
    portions = [Portion(grams, each.value) for (_, grams), each in nearest.items() if each is not None]
    return blended_moisture(portions)


def _span(year: int | None) -> tuple[date, date]:
    return (date.min, date.max) if year is None else (date(year, 1, 1), date(year, 12, 31))
