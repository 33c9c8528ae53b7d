"""The forms of a jarring, a label and counted labels, and what each makes of what was typed."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from beeledger.base.dates import long
from beeledger.base.text import tidy
from beeledger.base.units import kilograms
from beeledger.operations.honey_lots import Spent
from beeledger.operations.jars import JarsOut
from beeledger.operations.labels import LabelChange, LabelCount, NewBatch
from beeledger.queries.honey import LotLine
from beeledger.queries.records.batch_card import BatchCard
from beeledger.queries.records.label_words import LabelWords
from beeledger.rules.label_sheets import load_sheets
from beeledger.rules.labels import DateForm, Market, products
from beeledger.ui.parts.licence import add_licence, licence_in
from beeledger.ui.parts.typed_form import Typed, TypedForm
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.field import Field

_YES_NO = (("yes", "yes"), ("no", "no"))


def jar_form(lots: Sequence[LotLine], today: date) -> TypedForm:
    """A new jarring."""
    form = TypedForm(
        "Jar honey", "Write the jarring", _jarring, today, "The next lot mark is given when it is written."
    )
    options = [(str(lot.id), _lot_words(lot)) for lot in lots]
    form.add("lot_id", Field("From", editor=Choice(options)))
    form.add_side_by_side(
        {
            "on": Field("Day", long(today), width=130),
            "jar_g": Field("Jar", "340", unit="g", width=80),
            "jars": Field("Jars filled", width=90),
        }
    )
    form.add("product", Field("What the farm calls it", "Honey"))
    form.add_side_by_side(
        {
            "drawn_g": Field("Drawn from it", unit="kg", width=110, prompt="all it took"),
            "foam_g": Field("Foam and spill", unit="kg", width=110),
            "sample_g": Field("Sample kept", unit="kg", width=110),
        }
    )
    form.add("best_before", Field("Best before", prompt="as the farm has settled", width=170))
    form.caution(
        "Honey is not for infants under 12 months. A full bucket or tank is more than one person should lift."
    )
    return form


def label_form(card: BatchCard, today: date) -> TypedForm:
    """The words of a label."""

    def read(typed: Typed) -> LabelChange:
        return _label(typed, card)

    form = TypedForm(
        f"Label of {card.label.lot_mark}", "Keep this label", read, today,
        "Empty fields are filled from the farm's settings and from where the honey came from.",
    )  # fmt: skip
    _add_words(form, card)
    _add_choices(form, card)
    form.caution("The law of the place where it is sold stands above what is ticked here.")
    words = card.words
    form.set_values(
        {
            "product": words.product, "date_form": words.date_form, "market": words.market, "sheet": card.sheet,
            "infant_caution": _said(words.infant_caution), "imperial": _said(words.imperial),
            "e_mark": _said(words.e_mark),
        }
    )  # fmt: skip
    return form


def _add_words(form: TypedForm, card: BatchCard) -> None:
    """What is written on it; what the farm or the honey says stands pale in an empty field."""
    words = card.words
    form.add_side_by_side(
        {
            "name": Field("Name of the food", words.name),
            "product": Field("Kind by law", editor=Choice(product_options()), width=180),
        }
    )
    form.add_side_by_side(
        {"floral": Field("Flower named", words.floral), "region": Field("Place named", words.region)}
    )
    form.add("other_words", Field("Other words under the name", ", ".join(words.other_words)))
    form.add("origin_words", Field("Country of origin", words.origin_words, prompt=card.label.origin_words))
    form.add("business", Field("Business", words.business, prompt=card.label.business))
    form.add("address", Field("Postal address", words.address, prompt=card.label.address))


def _add_choices(form: TypedForm, card: BatchCard) -> None:
    """Date, market, sheet, and what is printed or left out."""
    words = card.words
    form.add_side_by_side(
        {
            "best_before": Field("Best before", long(card.line.best_before), width=130),
            "date_form": Field(
                "As printed", editor=Choice([(form.value, form.value) for form in DateForm]), width=180
            ),
        }
    )
    form.add_side_by_side(
        {
            "market": Field("Sold in", editor=Choice([(each.value, each.value) for each in Market])),
            "gtin": Field("Article number", card.gtin, width=140),
        }
    )
    form.add_side_by_side(
        {
            "sheet": Field(
                "Sheet", editor=Choice([(key, sheet.name) for key, sheet in load_sheets().items()])
            ),
            "surface_cm2": Field("Jar surface", str(words.surface_cm2), unit="cm²", width=110),
        }
    )
    form.add_side_by_side(
        {
            "infant_caution": Field("Infant caution", editor=Choice(_YES_NO), width=110),
            "imperial": Field("Imperial weight", editor=Choice(_YES_NO), width=110),
            "e_mark": Field("℮ mark", editor=Choice(_YES_NO), width=90),
        }
    )


def count_form(card: BatchCard, today: date) -> TypedForm:
    """Labels used and spoiled, and those printed elsewhere."""

    def read(typed: Typed) -> LabelCount:
        printed, used, spoiled = (typed.whole(name) or 0 for name in ("printed", "used", "spoiled"))
        return LabelCount(card.line.id, printed, used, spoiled)

    line = card.line
    note = f"So far {line.printed:,} printed, {card.used:,} used, {card.spoiled:,} spoiled. What is typed is added."
    form = TypedForm(f"Labels of {card.label.lot_mark}", "Add to the count", read, today, note)
    form.add_side_by_side(
        {
            "printed": Field("Printed", width=100), "used": Field("On jars", width=100),
            "spoiled": Field("Spoiled", width=100),
        }
    )  # fmt: skip
    return form


def jars_form(card: BatchCard, customers: Sequence[str], today: date) -> TypedForm:
    """Jars that leave the farm."""

    def read(typed: Typed) -> JarsOut:
        jars = typed.whole("jars")
        if not jars:
            typed.refuse("jars", "how many jars?")
        party = typed.wanted("party", "say who got them: a recall has to reach them")
        on = typed.day("on", needed=True) or today
        return JarsOut(
            card.line.id,
            on,
            jars or 0,
            party,
            typed.text("way"),
            typed.text("note") or None,
            licence_in(typed),
        )

    note = "A lot mark leads to everybody who got jars of it."
    form = TypedForm(f"Jars of {card.label.lot_mark} out", "Write it down", read, today, note)
    options = [(name, name) for name in ("", *customers)]
    form.add("party", Field("To whom", editor=Choice(options, free=True)))
    ways = (("dispatch", "sold"), ("gift", "given"), ("rent", "paid as rent"))
    form.add_side_by_side(
        {
            "jars": Field("Jars", width=90), "way": Field("How", editor=Choice(ways), width=140),
            "on": Field("Day", long(today), width=130),
        }
    )  # fmt: skip
    form.add("note", Field("Note", prompt="delivery note, order"))
    add_licence(form)
    return form


def product_options() -> list[tuple[str, str]]:
    """The kinds of product that the law has a name for."""
    return [(key, product.names[0]) for key, product in products().items()]


def _jarring(typed: Typed) -> NewBatch:
    jar, jars = typed.whole("jar_g") or 0, typed.whole("jars") or 0
    if not typed.text("lot_id"):
        typed.refuse("lot_id", "there is no lot to jar from", "Extract or buy honey first")
    if not jars:
        typed.refuse("jars", "how many jars were filled?")
    if not jar:
        typed.refuse("jar_g", "what does a jar hold?")
    losses = (("foam", typed.whole("foam_g", 1000)), ("sample", typed.whole("sample_g", 1000)))
    return NewBatch(
        lot_id=int(typed.text("lot_id") or 0), on=typed.day("on", needed=True) or typed.today, jar_g=jar, jars=jars,
        product=typed.wanted("product", "say what it is"), drawn_g=typed.whole("drawn_g", 1000),
        spent=tuple(Spent(sink, grams) for sink, grams in losses if grams), best_before=typed.day("best_before"),
    )  # fmt: skip


def _label(typed: Typed, card: BatchCard) -> LabelChange:
    words = LabelWords(
        name=tidy(typed.text("name")), product=typed.text("product"), origin_words=tidy(typed.text("origin_words")),
        business=tidy(typed.text("business")), address=tidy(typed.text("address")),
        infant_caution=typed.yes("infant_caution") is not False, floral=tidy(typed.text("floral")),
        region=tidy(typed.text("region")), date_form=typed.text("date_form"), imperial=typed.yes("imperial") is True,
        other_words=tuple(tidy(part) for part in typed.text("other_words").split(",") if part.strip()),
        e_mark=typed.yes("e_mark") is True, market=typed.text("market"), surface_cm2=typed.whole("surface_cm2") or 0,
    )  # fmt: skip
    day = typed.day("best_before", needed=True) or card.line.best_before
    return LabelChange(card.line.id, words, day, typed.text("sheet"), typed.text("gtin"))


def _lot_words(lot: LotLine) -> str:
    held = f"  held: {lot.hold}" if lot.hold else ""
    return f"{lot.name}  {kilograms(lot.left_g)} kg{held}"


def _said(value: bool) -> str:  # noqa: FBT001  # a fact of the label, not a switch
    return "yes" if value else "no"
