"""The forms of Medicines: a pack, what was got rid of, what a sheet left out, the register's period."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from beeledger.base.dates import long, short
from beeledger.base.text import counted
from beeledger.operations.medicines import GivenFacts, NewDisposal, NewMedicine
from beeledger.queries.records.medicines import GivenCard, PackRow, Supplier
from beeledger.rules.medicines import cautions, courses
from beeledger.ui.parts.typed_form import Typed, TypedForm
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.field import Field, note_editor

_LAW = (
    "The law wants product, batch, day, quantity, supplier with address and proof of purchase. What is not known yet is "
    "left empty and marked."
)


def pack_form(suppliers: Sequence[Supplier], today: date, pack: PackRow | None = None) -> TypedForm:
    """A pack as bought; with ``pack`` its form filled with what is on record."""
    title, word = ("Add a pack", "Add") if pack is None else ("Change a pack", "Change")
    form = TypedForm(title, word, _read_pack, today, _LAW)
    substances = [("", ""), *((code, course.words) for code, course in courses().items())]
    form.add("product", Field("Product", prompt="as on the label"))
    form.add("active", Field("Active substance", editor=Choice(substances)))
    form.add_side_by_side(
        {
            "batch": Field("Batch number", width=108),
            "expires_on": Field("Expires", width=100),
            "pieces": Field("Bought", unit="pieces", width=90),
        }
    )
    form.add_side_by_side(
        {
            "withdrawal": Field("Withdrawal", unit="days", width=108, prompt="on the label"),
            "course": Field("Course", unit="days", width=100, prompt="as usual"),
        }
    )
    form.add_side_by_side(
        {
            "acquired_on": Field("Acquired", short(today) if pack is None else "", width=108),
            "proof": Field("Proof of purchase", prompt="invoice number, folder"),
        }
    )
    names = [("", ""), *((one.name, one.name) for one in suppliers)]
    form.add("supplier", Field("From", editor=Choice(names, free=True)))
    form.add("address", Field("Address", editor=note_editor()))
    usual = (("no", "only where a sheet names it"), ("yes", "where a sheet names none"))
    form.add("usual", Field("A sheet means this pack", editor=Choice(usual), message=False))
    careful = form.caution("")
    form.fields["active"].changed.connect(lambda _word: careful.setText(_cautions(form)))
    addresses = {one.name: one.address for one in suppliers}
    form.fields["supplier"].changed.connect(lambda _name: _bring_address(form, addresses))
    if pack is not None:
        form.set_values(_values(pack))
    return form


def _read_pack(typed: Typed) -> NewMedicine | None:
    active = typed.text("active")
    if not active:
        typed.refuse("active", "an active substance is needed", "Choose the one the label names")
    product = typed.wanted("product", "a medicine needs its product's name")
    if typed.text("address") and not typed.text("supplier"):
        typed.refuse("supplier", "an address needs the supplier's name")
    return NewMedicine(
        product, active, typed.text("batch") or None, typed.day("expires_on"), typed.day("acquired_on"),
        typed.whole("pieces"), None, typed.whole("course"), typed.whole("withdrawal"), typed.text("usual") == "yes",
        typed.text("proof") or None, typed.text("supplier"), typed.text("address"),
    )  # fmt: skip


def _values(pack: PackRow) -> dict[str, str]:
    usual_days = courses()[pack.active].out_days
    return {
        "product": pack.product, "active": pack.active, "batch": pack.batch,
        "expires_on": long(pack.expires_on) if pack.expires_on else "", "pieces": _figure(pack.pieces),
        "withdrawal": _figure(pack.withdrawal_days),
        "course": "" if pack.course_days == usual_days else str(pack.course_days),
        "acquired_on": long(pack.acquired_on) if pack.acquired_on else "", "proof": pack.proof,
        "supplier": pack.supplier, "address": pack.supplier_address, "usual": "yes" if pack.usual else "no",
    }  # fmt: skip


def _bring_address(form: TypedForm, addresses: dict[str, str]) -> None:
    """The address on record follows the supplier, unless another was typed."""
    field = form.fields["address"]
    if field.value() in ("", *addresses.values()):
        field.set_value(addresses.get(form.fields["supplier"].value(), ""))


def _cautions(form: TypedForm) -> str:
    active = form.fields["active"].value()
    return " ".join(cautions(active)) if active in courses() else ""


def disposal_form(pack: PackRow, today: date) -> TypedForm:
    """What was left of a pack and was got rid of."""

    def read(typed: Typed) -> NewDisposal | None:
        on, pieces = typed.day("on", needed=True), typed.whole("pieces")
        if not pieces:
            typed.refuse("pieces", "how much was got rid of is missing")
        how = typed.wanted("how", "how and where is missing")
        return NewDisposal(pack.id, on, pieces or 0, how) if on is not None else None

    note = f"{pack.product}, batch {pack.batch}." if pack.batch else f"{pack.product}."
    form = TypedForm(
        "Dispose of what is left", "Write down", read, today,
        f"{note} The law wants day, quantity, and how and where. Never into drains or the hedge: as the label says.",
    )  # fmt: skip
    left = str(pack.left) if pack.left is not None and pack.left > 0 else ""
    form.add_side_by_side(
        {
            "on": Field("Day", short(today), width=110),
            "pieces": Field("Quantity", left, unit="pieces", width=110),
        }
    )
    form.add("how", Field("How and where", prompt="taken back to the supplier"))
    return form


def given_form(card: GivenCard, today: date) -> TypedForm:
    """What a sheet left out of one line of the register."""
    line = card.line
    ids = tuple(hive.treatment_id for hive in card.hives)

    def read(typed: Typed) -> GivenFacts | None:
        pieces = typed.whole("pieces")
        if pieces == 0:
            typed.refuse("pieces", "a quantity is one at least")
        pack = int(typed.text("pack"))
        moved = None if pack == line.key.medicine_id else pack
        if pieces is None and moved is None:
            typed.refuse("pieces", "nothing is filled in")
        return GivenFacts(ids, pieces, moved)

    form = TypedForm(
        "Fill in the record", "Write down", read, today,
        f"{line.product}, put in {long(line.key.in_on)} at {line.site or 'an unknown site'}: "
        f"{counted(line.hives, 'hive')}." + (" Holds for each of them." if line.hives > 1 else ""),
    )  # fmt: skip
    each = {hive.pieces for hive in card.hives}
    known = each.pop() if len(each) == 1 else None
    form.add("pieces", Field("Quantity in each hive", _figure(known), unit="pieces", width=150))
    packs = [(str(number), words) for number, words in card.packs]
    form.add("pack", Field("From the pack", editor=Choice(packs)))
    form.set_values({"pack": str(line.key.medicine_id)})
    return form


@dataclass(frozen=True, slots=True)
class RegisterWanted:
    """Which part of the register is printed."""

    first: date
    last: date
    site_id: int | None
    scope: str


def register_form(sites: Sequence[tuple[int, str]], first: date, today: date) -> TypedForm:
    """The register's period and site."""
    names = {str(number): name for number, name in sites}

    def read(typed: Typed) -> RegisterWanted | None:
        start, end = typed.day("first", needed=True), typed.day("last", needed=True)
        if start is None or end is None:
            return None
        if end < start:
            typed.refuse("last", "the period ends before it begins")
        site = typed.text("site")
        return RegisterWanted(start, end, int(site) if site else None, names.get(site, "all sites"))

    form = TypedForm(
        "Medicine register", "Show", read, today,
        "What was given in a period, the packs it came from, and what was disposed of.",
    )  # fmt: skip
    form.add_side_by_side(
        {"first": Field("From", long(first), width=130), "last": Field("Until", long(today), width=130)}
    )
    form.add("site", Field("Site", editor=Choice([("", "all sites"), *names.items()])))
    return form


def _figure(number: int | None) -> str:
    return "" if number is None else str(number)
