"""The forms of the harvest: supers taken, a reading, a blend, honey that leaves, honey bought, a hold."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from beeledger.base.dates import long
from beeledger.base.text import tidy
from beeledger.base.units import kilograms
from beeledger.operations.honey import NewBlend, NewReading
from beeledger.operations.honey_lots import Draw, NewLot, NewSink
from beeledger.queries.honey import SCALES, LotLine
from beeledger.queries.records.sites import SiteName
from beeledger.rules.honey_composition import kinds
from beeledger.rules.restrictions import Licence
from beeledger.ui.parts.licence import add_licence, licence_in
from beeledger.ui.parts.typed_form import Typed, TypedForm
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.field import Field

_SINKS = (
    ("spill", "spill"), ("foam", "foam"), ("wax", "wax"), ("sample", "sample kept"), ("gift", "gift"),
    ("rent", "rent in honey"), ("feed", "fed back to bees"), ("loss", "loss"),
)  # fmt: skip
_HIVE = re.compile(r"([^\s,:×x*]+)(?:\s*[:×x*\s]\s*(\d{1,2}))?")


@dataclass(frozen=True, slots=True)
class TakeTyped:
    """A take as typed: hives by their marks, and supers of the site as a whole."""

    site_id: int
    on: date
    hives: tuple[tuple[str, int], ...]
    whole: int
    reason: str
    note: str
    licence: Licence


@dataclass(frozen=True, slots=True)
class HoldTyped:
    """A lot put on hold, or freed, and why."""

    lot_id: int
    why: str
    free: bool


def take_form(sites: Sequence[SiteName], today: date) -> TypedForm:
    """Supers taken at a site. What a round took off is here already."""
    form = TypedForm(
        "Supers taken", "Write the take", _take, today,
        "Supers that a posted round took off are in the list already: do not type them twice.",
    )  # fmt: skip
    choices = [("", "choose"), *((str(site.site_id), f"{site.name}  {site.code}") for site in sites)]
    form.add("site", Field("Site", editor=Choice(choices)))
    form.add_side_by_side(
        {
            "on": Field("Day", long(today), width=130),
            "whole": Field("Supers, hive not noted", width=150),
        }
    )
    form.add("hives", Field("Supers by hive", prompt="12:2, 14, 15:3   hive and how many, one when not said"))
    form.add("reason", Field("Reason", prompt="only where a hive was treated, in its withdrawal, or fed"))
    form.add("note", Field("Note"))
    add_licence(form)
    form.caution(
        "No honey for sale from a hive under treatment or within its withdrawal: the medicine's label and the veterinary "
        "law stand above a reason. Full supers are heavier than one person should lift."
    )
    return form


def read_form(lot: LotLine, today: date) -> TypedForm:
    """A reading of a lot."""

    def read(typed: Typed) -> NewReading:
        kind = typed.text("kind")
        index, value = typed.whole("index", 100_000), typed.whole("value", SCALES[kind][2])
        if index is None and value is None:
            typed.refuse("value", "nothing was read", "Type the figure, or what the refractometer shows")
        if index is not None and kind != "moisture":
            typed.refuse("index", "a refractometer reads moisture only")
        return NewReading(
            lot.id, kind, typed.day("on", needed=True) or today, None if index is not None else value, index,
            typed.whole("temperature", 10), typed.text("source") or None,
        )  # fmt: skip

    form = TypedForm(
        f"Reading of {lot.name}",
        "Keep the reading",
        read,
        today,
        "A reading outside the law's limit for its kind puts the lot on hold; one within frees it.",
    )
    options = [(kind, f"{name}, {unit}") for kind, (name, unit, _, _) in SCALES.items()]
    form.add_side_by_side(
        {"kind": Field("What", editor=Choice(options)), "on": Field("Day", long(today), width=130)}
    )
    form.add_side_by_side(
        {
            "value": Field("Figure", width=110),
            "index": Field("or refractometer", prompt="1.4935", width=130),
            "temperature": Field("at", unit="°C", width=80),
        }
    )
    form.add("source", Field("Read by", prompt="own refractometer, laboratory and its sheet"))
    return form


def blend_form(chosen: Sequence[LotLine], today: date) -> TypedForm:
    """Chosen lots run together; each gives all it holds unless a figure is typed."""

    def read(typed: Typed) -> NewBlend:
        draws = []
        for lot in chosen:
            grams = typed.whole(f"lot_{lot.id}", 1000)
            draws.append(Draw(lot.id, lot.left_g if grams is None else grams))
        name = typed.wanted("name", "say what it is run into")
        kept = tuple(draw for draw in draws if draw.grams)
        return NewBlend(typed.day("on", needed=True) or today, kept, name, typed.text("kind"))

    form = TypedForm(
        "Run honey together", "Run it together", read, today, "What flows together is one honey for tracing."
    )
    form.add_side_by_side(
        {
            "name": Field("Into", "tank 1"),
            "kind": Field(
                "Which is a", editor=Choice([(k, k) for k in ("tank", "drum", "bucket")]), width=110
            ),
            "on": Field("Day", long(today), width=130),
        }
    )
    for lot in chosen:
        label = f"From {lot.name}, which holds {kilograms(lot.left_g, 3)}"
        form.add(f"lot_{lot.id}", Field(label, unit="kg", prompt="all of it", width=150))
    return form


def sink_form(lot: LotLine, today: date) -> TypedForm:
    """Honey that leaves a lot for good."""

    def read(typed: Typed) -> NewSink:
        grams = typed.whole("kg", 1000)
        if not grams:
            typed.refuse("kg", "how much was it?")
        on = typed.day("on", needed=True) or today
        return NewSink(
            lot.id,
            on,
            typed.text("sink"),
            grams or 0,
            note=typed.text("note") or None,
            licence=licence_in(typed),
        )

    form = TypedForm(f"Honey out of {lot.name}", "Write it down", read, today)
    form.add_side_by_side(
        {
            "sink": Field("What became of it", editor=Choice(_SINKS)),
            "kg": Field("How much", unit="kg", width=110),
            "on": Field("Day", long(today), width=130),
        }
    )
    form.add("note", Field("Note"))
    add_licence(form)
    return form


def open_form(today: date) -> TypedForm:
    """Honey bought in, or there before the record began."""
    form = TypedForm("Honey bought, or there before", "Write it down", _opened, today)
    origins = (("bought", "bought in"), ("opening", "there before the record began"))
    form.add_side_by_side(
        {"origin": Field("How", editor=Choice(origins)), "on": Field("Day", long(today), width=130)}
    )
    form.add_side_by_side(
        {
            "name": Field("Written on it", "drum "),
            "kind": Field(
                "Which is a", editor=Choice([(k, k) for k in ("drum", "bucket", "tank")]), width=110
            ),
            "kg": Field("Honey", unit="kg", width=110),
        }
    )
    form.add_side_by_side(
        {"country": Field("Country of harvest", "United Kingdom"), "supplier_lot": Field("Seller's lot mark")}
    )
    form.add("honey_kind", Field("Kind of honey", editor=Choice(list(kinds().items()))))
    return form


def hold_form(lot: LotLine, today: date) -> TypedForm:
    """Put a lot on hold, or free it."""

    def read(typed: Typed) -> HoldTyped:
        return HoldTyped(lot.id, typed.wanted("why", "say why"), free=lot.hold is not None)

    if lot.hold:
        form = TypedForm(f"Free {lot.name}", "Free it", read, today, f"Held: {lot.hold}.")
    else:
        form = TypedForm(
            f"Hold {lot.name}", "Hold it", read, today, "Nothing is jarred from it until it is freed."
        )
    form.add("why", Field("Why"))
    return form


def read_hives(text: str) -> tuple[tuple[str, int], ...]:
    """Hives and supers as typed: "12:2, 14, 15×3". ValueError with a sentence."""
    found: list[tuple[str, int]] = []
    for part in text.replace(";", ",").split(","):
        words = tidy(part)
        if not words:
            continue
        match = _HIVE.fullmatch(words)
        if not match:
            raise ValueError(f"{words!r} is not a hive and its supers")
        count = int(match[2] or 1)
        if count < 1:
            raise ValueError(f"hive {match[1]}: no super was taken")
        found.append((match[1], count))
    return tuple(found)


def _take(typed: Typed) -> TakeTyped:
    if not typed.text("site"):
        typed.refuse("site", "no site is chosen", "Choose it; a new one is added in Sites")
    hives: tuple[tuple[str, int], ...] = ()
    try:
        hives = read_hives(typed.text("hives"))
    except ValueError as error:
        typed.refuse("hives", str(error), "Type it as 12:2, 14, 15:3")
    whole = typed.whole("whole") or 0
    if not hives and not whole:
        typed.refuse("hives", "how many supers, and from which hives?")
    on = typed.day("on", needed=True) or typed.today
    return TakeTyped(
        int(typed.text("site") or 0),
        on,
        hives,
        whole,
        typed.text("reason"),
        typed.text("note"),
        licence_in(typed),
    )


def _opened(typed: Typed) -> NewLot:
    grams = typed.whole("kg", 1000)
    if not grams:
        typed.refuse("kg", "how much is it?")
    return NewLot(
        name=typed.wanted("name", "say what is written on it"), on=typed.day("on", needed=True) or typed.today,
        grams=grams or 0, origin=typed.text("origin"), kind=typed.text("kind"),
        country=typed.wanted("country", "a label has to name it"), honey_kind=typed.text("honey_kind"),
        supplier_lot=typed.text("supplier_lot") or None,
    )  # fmt: skip
