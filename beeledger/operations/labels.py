"""Jarrings and their labels: a batch under one lot mark, its weighing check, its label, labels counted.

Whether a label may be printed is judged by the drawn label and the law (reporting, rules.label_law); here
only what was decided and counted is written.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from sqlalchemy import select

from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import counted, tidy
from beeledger.base.units import kilograms
from beeledger.database.audit import OpenAct
from beeledger.model.honey import Batch, HoneyLot, HoneyTransfer, JarWeight
from beeledger.operations.honey_lots import (
    HELD,
    Draw,
    Spent,
    check_day,
    check_draws,
    check_spent,
    lots_of,
    refusal,
    refuse,
    transfer,
)
from beeledger.operations.stock_following import follow_jarring, follow_labels
from beeledger.queries.farm import FarmSettings, farm_settings
from beeledger.queries.records.label_words import LabelWords
from beeledger.rules.label_codes import is_gtin
from beeledger.rules.label_sheets import load_sheets, sheets_for
from beeledger.rules.labels import DateForm, Market, months_later, products
from beeledger.rules.lot_marks import LotMark, is_prefix, make_mark, read_mark
from beeledger.rules.weighing import is_in_scope

SHORT = "batch.short"
"""The code of jars that hold less than their nominal weight on the whole; it may be accepted."""


@dataclass(frozen=True, slots=True)
class NewBatch:
    """A jarring: so many jars of a nominal weight from one lot.

    ``drawn_g``: what was drawn from the lot, with what was spent; None: the nominal weight of the jars and
    what was spent. ``best_before`` None: as many months on as the farm has settled. ``sheet`` empty: the
    first one meant for that jar. ``gtin`` None: the farm's for that jar.
    """

    lot_id: int
    on: date
    jar_g: int
    jars: int
    product: str = "Honey"
    """What the farm calls it; the name on the label stands in ``label``."""
    drawn_g: int | None = None
    spent: tuple[Spent, ...] = ()
    best_before: date | None = None
    claim: str | None = None
    sheet: str = ""
    gtin: str | None = None
    label: LabelWords | None = None
    accepted: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class LabelChange:
    """What the label form holds."""

    batch_id: int
    words: LabelWords
    best_before: date
    sheet: str
    gtin: str = ""


@dataclass(frozen=True, slots=True)
class LabelCount:
    """Labels printed, stuck on jars and spoiled, to be added to what is counted already."""

    batch_id: int
    printed: int = 0
    used: int = 0
    spoiled: int = 0


def jar_batch(act: OpenAct, new: NewBatch) -> str:
    """Write a jarring under the next lot mark; ``act.result`` is the batch's id."""
    farm = farm_settings(act.session)
    refuse(_check_batch(act, new, farm), new.accepted)
    source = act.session.get_one(HoneyLot, new.lot_id)
    mark, drawn = _next_mark(act, farm.lot_prefix, new.on.year), _drawn_g(new)
    lot = HoneyLot(
        kind="jarring", name=str(mark), opened_on=new.on, country=source.country, honey_kind=source.honey_kind
    )
    act.session.add(lot)
    act.session.flush()
    transfer(act, new.on, [Draw(source.id, drawn)], lot.id)
    act.session.add_all(
        HoneyTransfer(on=new.on, from_lot_id=lot.id, sink=each.sink, grams=each.grams, note=each.note)
        for each in new.spent
    )
    words = new.label or LabelWords(name=farm.food_name, infant_caution=farm.infant_caution)
    batch = Batch(
        lot_id=lot.id, lot_mark=str(mark), product=tidy(new.product), claim=new.claim, jar_g=new.jar_g,
        jars=new.jars, jarred_on=new.on, best_before=_best_before(new, farm), label=words.kept(),
        gtin=(farm.gtin(new.jar_g) if new.gtin is None else "".join(new.gtin.split())) or None,
        sheet=new.sheet or sheet_for_jar(new.jar_g),
    )  # fmt: skip
    act.session.add(batch)
    act.session.flush()
    follow_jarring(act, batch.id, new.on, new.jar_g, new.jars)
    act.result = batch.id
    return f"Jarred {mark.printed()}: {new.jars:,} of {new.jar_g:,} g from {source.name}"


def change_label(act: OpenAct, new: LabelChange) -> str:
    """Write the words of a label, its date of best before, sheet and article number."""
    batch = act.session.get_one(Batch, new.batch_id)
    findings = _check_words(new.words)
    if new.best_before <= batch.jarred_on:
        findings.append(refusal("batch.date", "it does not lie after the jarring", "best_before"))
    if new.sheet not in load_sheets():
        findings.append(refusal("batch.sheet", f"there is no sheet {new.sheet}", "sheet"))
    if new.gtin.strip() and not is_gtin(new.gtin):
        what = f"{new.gtin} is mistyped somewhere: its check digit does not agree"
        findings.append(refusal("batch.gtin", what, "gtin"))
    refuse(findings)
    batch.label, batch.best_before = new.words.kept(), new.best_before
    batch.sheet, batch.gtin = new.sheet, "".join(new.gtin.split()) or None
    return f"Changed the label of L {batch.lot_mark}"


def weigh_jars(act: OpenAct, batch_id: int, net_tenths_g: Sequence[int]) -> str:
    """Write the weighing check of a batch: net weights in the order weighed, in place of what was there."""
    batch = act.session.get_one(Batch, batch_id)
    findings = []
    for row, weight in enumerate(net_tenths_g, start=1):
        if not 0 < weight < batch.jar_g * 20:
            what = f"{weight / 10:.1f} g is no net weight of a jar of {batch.jar_g:,} g"
            findings.append(refusal("jar.weight", what, "gross", "Look at the scale and the empty jar", row))
    if len(net_tenths_g) > batch.jars:
        findings.append(refusal("jar.many", f"the batch has {batch.jars:,} jars", "gross"))
    refuse(findings)
    rows = {
        row.number: row
        for row in act.session.scalars(select(JarWeight).where(JarWeight.batch_id == batch_id))
    }
    for number, weight in enumerate(net_tenths_g, start=1):
        if number in rows:
            rows[number].net_tenths_g = weight
        else:
            act.session.add(JarWeight(batch_id=batch_id, number=number, net_tenths_g=weight))
    for number in rows.keys() - set(range(1, len(net_tenths_g) + 1)):
        act.session.delete(rows[number])
    if net_tenths_g and len(net_tenths_g) == len(rows) + 1:
        return f"Weighed jar {len(net_tenths_g)} of L {batch.lot_mark}: {net_tenths_g[-1] / 10:.1f} g"
    return f"Weighed {counted(len(net_tenths_g), 'jar')} of L {batch.lot_mark}"


def print_labels(act: OpenAct, new: LabelCount) -> str:
    """Add to the labels printed, used and spoiled. Refused when more left than were printed."""
    batch = act.session.get_one(Batch, new.batch_id)
    findings = []
    if min(new.printed, new.used, new.spoiled) < 0 or not (new.printed or new.used or new.spoiled):
        findings.append(refusal("labels.none", "say how many, above nought", "printed"))
    printed = batch.labels_printed + new.printed
    gone = batch.labels_used + new.used + batch.labels_spoiled + new.spoiled
    if gone > printed:
        what = f"{gone:,} labels used and spoiled, but {printed:,} printed"
        findings.append(refusal("labels.many", what, "used", "Count again, or write down what was printed"))
    refuse(findings)
    batch.labels_printed = printed
    batch.labels_used += new.used
    batch.labels_spoiled += new.spoiled
    follow_labels(act, batch.id, act.today, batch.jar_g, new.printed)
    counts = ((new.printed, "printed"), (new.used, "used"), (new.spoiled, "spoiled"))
    said = ", ".join(f"{number:,} {word}" for number, word in counts if number)
    return f"Labels of L {batch.lot_mark}: {said}"


def sheet_for_jar(jar_g: int) -> str:
    """The first sheet meant for a jar of that weight, or the one for the nearest weight."""
    if meant := sheets_for(jar_g):
        return meant[0].key
    near = min(load_sheets().values(), key=lambda s: min(abs(each - jar_g) for each in s.for_jars_g))
    return near.key


def _drawn_g(new: NewBatch) -> int:
    if new.drawn_g is not None:
        return new.drawn_g
    return new.jars * new.jar_g + sum(each.grams for each in new.spent)


def _best_before(new: NewBatch, farm: FarmSettings) -> date:
    return new.best_before or months_later(new.on, farm.best_before_months)


def _check_batch(act: OpenAct, new: NewBatch, farm: FarmSettings) -> list[Finding]:
    lot = lots_of(act, [new.lot_id])[new.lot_id]
    findings = check_day(act, new.on) + check_spent(new.spent) + _check_jars(new, farm)
    findings += check_draws(act, [Draw(new.lot_id, _drawn_g(new))], new.on, frozenset([HELD]))
    if lot.hold:  # a jar is the last step: no key takes a hold over here
        findings.append(refusal("batch.held", f"{lot.name} is held: {lot.hold}", "lot_id", "Free it first"))
    if not is_prefix(farm.lot_prefix):
        what = "the farm has no letters for its lot marks yet"
        mend = "Choose 2 to 4 capitals in the settings, without I, O and L"
        findings.append(refusal("batch.prefix", what, "lot_prefix", mend))
    if _best_before(new, farm) <= new.on:
        findings.append(refusal("batch.date", "it does not lie after the jarring", "best_before"))
    if new.sheet and new.sheet not in load_sheets():
        findings.append(refusal("batch.sheet", f"there is no sheet {new.sheet}", "sheet"))
    if new.gtin and not is_gtin(new.gtin):
        findings.append(refusal("batch.gtin", f"{new.gtin} is mistyped somewhere", "gtin"))
    return findings + (_check_words(new.label) if new.label else [])


def _check_jars(new: NewBatch, farm: FarmSettings) -> list[Finding]:
    findings = []
    if new.jars < 1:
        findings.append(refusal("batch.jars", "a jarring has at least one jar", "jars"))
    if not is_in_scope(new.jar_g):
        findings.append(refusal("batch.jar", f"{new.jar_g:,} g lies outside 5 g to 25 kg", "jar_g"))
    if not tidy(new.product or farm.food_name):
        findings.append(refusal("batch.product", "say what it is", "product"))
    in_jars = _drawn_g(new) - sum(each.grams for each in new.spent)
    if new.jars > 0 and in_jars < new.jars * new.jar_g:
        what = (
            f"{kilograms(in_jars, 3)} kg in {new.jars:,} jars is {in_jars / new.jars:.1f} g each, "
            f"below {new.jar_g:,} g"
        )
        mend = "Count the jars and weigh the tank again: the mean may not lie below (SI 2006/659)"
        findings.append(Finding(SHORT, Grade.AGAINST, what, mend, Where(field="drawn_g")))
    return findings


def _check_words(words: LabelWords) -> list[Finding]:
    findings = []
    if words.product not in products():
        findings.append(refusal("label.product", f"{words.product} is no product of the law", "product"))
    if words.date_form not in list(DateForm):
        findings.append(refusal("label.date-form", f"{words.date_form} is no form of a date", "date_form"))
    if words.market not in list(Market):
        findings.append(refusal("label.market", f"{words.market} is no market", "market"))
    if words.surface_cm2 < 1:
        findings.append(refusal("label.surface", "the jar has a surface above nought", "surface_cm2"))
    return findings


def _next_mark(act: OpenAct, prefix: str, year: int) -> LotMark:
    """The mark after the highest of the year."""
    stem = f"{prefix}{year % 100:02d}-"
    used = act.session.scalars(select(Batch.lot_mark).where(Batch.lot_mark.startswith(stem)))
    number = max((read_mark(mark).number for mark in used), default=0) + 1
    try:
        return make_mark(prefix, year, number)
    except ValueError as error:
        raise Refused([refusal("batch.mark", str(error), "lot_prefix")]) from None
