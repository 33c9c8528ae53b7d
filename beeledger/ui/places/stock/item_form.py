"""The form of an item of stock: what it is, in what it is counted, when it is low, and what its kind asks for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from beeledger.base.units import per_cent, to_scale
from beeledger.operations.stock_items import NewItem
from beeledger.queries.records.stock import Choices, Item
from beeledger.rules.rounds.entry import FeedKind
from beeledger.rules.stock_items import BoxKind, BoxState, ItemKind, Unit
from beeledger.ui.parts.typed_form import Typed, TypedForm
from beeledger.ui.places.stock.quantities import KIND_WORDS, STATE_WORDS, figure, read_quantity
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.field import Field

FEED_WORDS: dict[str, str] = {
    kind.value: kind.value.replace("_", " ").replace("1 1", "1:1").replace("2 1", "2:1") for kind in FeedKind
}
_ASKED_OF: Mapping[str, frozenset[str]] = {
    "feed_kind": frozenset({"feed"}),
    "sugar_hundredths": frozenset({"feed"}),
    "fits_g": frozenset({"jar", "lid", "label"}),
    "box": frozenset({"box"}),
    "frame_size": frozenset({"box"}),
    "box_state": frozenset({"box"}),
}
"""Fields that only some kinds have."""
_NOTE = (
    "Without a line of its own an item is low when there is less than the next weeks need. Days to deliver say by when "
    "to order."
)


def item_form(choices: Choices, today: date, item: Item | None = None) -> TypedForm:
    """An item; with ``item`` its form filled with what is on record. Makes a ``NewItem``."""
    title, word = ("A new item", "Add it") if item is None else (item.name, "Save it")
    form = TypedForm(title, word, _read, today, _NOTE)
    kinds = [(kind.value, KIND_WORDS[kind]) for kind in ItemKind]
    units = [(Unit.GRAM.value, "kilograms"), (Unit.MILLILITRE.value, "litres"), (Unit.PIECE.value, "pieces")]
    form.add("name", Field("Name", prompt="white sugar, 340 g jars"))
    form.add_side_by_side(
        {"kind": Field("Kind", editor=narrow(kinds)), "unit": Field("Counted in", editor=narrow(units))}
    )
    form.add_side_by_side(
        {
            "pack": Field("A pack holds", width=110, prompt="25"),
            "pack_word": Field("It is called", prompt="sack"),
        }
    )
    form.add_side_by_side(
        {
            "low": Field("Low below", width=110),
            "lead_days": Field("Days to deliver", width=110),
        }
    )
    names = [("", ""), *((name, name) for _, name in choices.suppliers)]
    form.add("supplier", Field("Bought from", editor=narrow(names, free=True)))
    _add_of_kinds(form, choices)
    form.add("note", Field("Note"))
    form.fields["kind"].changed.connect(lambda _words: _suit_kind(form))
    if item is not None:
        form.set_values(_values(item))
    _suit_kind(form)
    return form


def narrow(options: Sequence[tuple[str, str]], *, free: bool = False) -> Choice:
    """A choice that gives way where the pane is narrow; its list shows the whole words."""
    made = Choice(options, free=free)
    made.setSizeAdjustPolicy(Choice.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    made.setMinimumContentsLength(6)
    line = made.lineEdit()
    if line is not None:
        made.currentIndexChanged.connect(
            lambda _at: line.home(False)
        )  # a long name is read from its beginning
    return made


def _add_of_kinds(form: TypedForm, choices: Choices) -> None:
    feeds = [("", ""), *FEED_WORDS.items()]
    boxes = [(BoxKind.SUPER.value, "super"), (BoxKind.BROOD.value, "brood box")]
    form.add("feed_kind", Field("In rounds it is", editor=narrow(feeds)))
    form.add("sugar_hundredths", Field("Sugar by weight", unit="%", width=110))
    form.add("fits_g", Field("For jars of", unit="g", width=110, prompt="any"))
    form.add("box", Field("Box", editor=narrow(boxes)))
    form.add("box_state", Field("State", editor=narrow(list(STATE_WORDS.items()))))
    sizes = [("", ""), *((name, name.replace("_", " ")) for name in choices.frame_sizes)]
    form.add("frame_size", Field("Frames", editor=narrow(sizes)))


def _suit_kind(form: TypedForm) -> None:
    """Only what the kind asks for is seen."""
    kind = form.fields["kind"].value()
    for name, kinds in _ASKED_OF.items():
        form.fields[name].setVisible(kind in kinds)
    if kind == ItemKind.BOX:
        form.set_values({"unit": Unit.PIECE.value})


def _read(typed: Typed) -> NewItem:
    kind, unit = ItemKind(typed.text("kind")), Unit(typed.text("unit"))

    def text(field: str) -> str:
        return typed.text(field) if kind in _ASKED_OF[field] else ""

    pack, low = _quantity(typed, "pack", unit), _quantity(typed, "low", unit)
    fits = typed.whole("fits_g") if text("fits_g") else None
    feed, box, state = text("feed_kind"), text("box"), text("box_state")
    return NewItem(
        typed.wanted("name", "an item needs a name"), kind, unit, pack, typed.text("pack_word"), low,
        typed.whole("lead_days"), None, typed.text("supplier"), FeedKind(feed) if feed else None,
        _sugar(typed) if text("sugar_hundredths") else None, fits, BoxKind(box) if box else None,
        text("frame_size"), BoxState(state) if state else None, typed.text("note"),
    )  # fmt: skip


def _quantity(typed: Typed, field: str, unit: Unit) -> int | None:
    if not typed.text(field):
        return None
    try:
        return read_quantity(typed.text(field), unit)
    except ValueError as error:
        typed.refuse(field, str(error))
        return None


def _sugar(typed: Typed) -> int | None:
    try:
        return to_scale(typed.text("sugar_hundredths"), 100)
    except ValueError as error:
        typed.refuse("sugar_hundredths", str(error), "Type a per cent, 63 or 63.5")
        return None


def _values(item: Item) -> dict[str, str]:
    return {
        "name": item.name, "kind": item.kind.value, "unit": item.unit.value, "pack": _figure(item.pack, item.unit),
        "pack_word": item.pack_word, "low": _figure(item.low, item.unit),
        "lead_days": "" if item.lead_days is None else str(item.lead_days), "supplier": item.supplier,
        "feed_kind": item.feed_kind or "",
        "sugar_hundredths": "" if item.sugar_hundredths is None else per_cent(item.sugar_hundredths, 2),
        "fits_g": "" if item.fits_g is None else str(item.fits_g),
        "box": item.box.value if item.box else BoxKind.SUPER.value, "frame_size": item.frame_size or "",
        "box_state": item.box_state.value if item.box_state else BoxState.FOUNDATION.value, "note": item.note,
    }  # fmt: skip


def _figure(quantity: int | None, unit: Unit) -> str:
    return "" if quantity is None else figure(quantity, unit)
