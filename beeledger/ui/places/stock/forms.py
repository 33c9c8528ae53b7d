"""The forms of what comes in, goes elsewhere, is used up or spoiled, and of boxes that change their state."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from beeledger.base.dates import long
from beeledger.base.text import tidy
from beeledger.base.units import to_scale
from beeledger.operations.stock import Bought, Delivery, StockMove, StockUse, Taken, Turning
from beeledger.operations.stock_items import NewStore
from beeledger.queries.records.stock import Choices, EntryRow, Item, Place
from beeledger.rules.stock_items import HIVES, PLACES, Account, At, ItemKind
from beeledger.ui.parts.lines_form import LinesForm
from beeledger.ui.parts.typed_form import Typed, TypedForm
from beeledger.ui.places.stock.item_form import narrow
from beeledger.ui.places.stock.quantities import STATE_WORDS, find_item, packs_words, read_quantity, said
from beeledger.ui.widgets.field import Field

_BEFORE = {Account.VAN: "van ", Account.SITE: "site ", Account.EXTRACTOR: "at "}
_AS_TYPED = "Type 12.5 for kilograms or litres, 800 g, or 3 sacks where the item says what a sack holds."
LIFT = "Full sacks, drums and pallets are heavier than one person should lift."


def at_key(at: At) -> str:
    """An account as the key of a choice."""
    return f"{at.kind.value}:{at.number or 0}"


def read_at(key: str) -> At | None:
    """The account of a key; None for words that are none."""
    kind, _, number = key.partition(":")
    if kind not in set(Account) or not number.isdecimal():
        return None
    account = Account(kind)
    return At(account, int(number)) if account in PLACES else At(account)


def place_options(choices: Choices, *, hives: bool = False) -> list[tuple[str, str]]:
    """The places a form offers, stores first; ``hives`` also the hives themselves."""
    offered = [
        (at_key(At(one.kind, one.number)), place_words(one)) for one in choices.places if not one.closed
    ]
    return [*offered, (at_key(HIVES), "on hives")] if hives else offered


def place_words(place: Place) -> str:
    """A place in a choice: what it is stands before its name, except at a store."""
    return f"{_BEFORE.get(place.kind, '')}{place.name}"


def usual_place(choices: Choices) -> str:
    """The key of the usual store, else of the first store there is."""
    stores = [one.number for one in choices.places if one.kind is Account.STORE and not one.closed]
    number = choices.usual_store_id or next(iter(stores), None)
    return at_key(At(Account.STORE, number)) if number is not None else ""


def kept_items(choices: Choices) -> list[Item]:
    """The items that are kept now."""
    return [item for item in choices.items if item.retired_on is None]


def delivery_form(choices: Choices, today: date, first: Item | None = None) -> LinesForm:
    """What was bought and came in; makes a ``Delivery``."""
    items = kept_items(choices)

    def line() -> Sequence[Mapping[str, Field]]:
        return (
            _what(items),
            {
                "batch": Field("Their batch", width=86),
                "expires_on": Field("Expires", width=80, prompt="30/6/28"),
                "price_pence": Field("Price", unit="£", width=66),
            },
        )

    def read(typed: Typed) -> Delivery | None:
        lines = []
        form.used = []
        for at in range(1, form.lines + 1):
            taken = _taken(typed, items, at)
            price = _pence(typed, f"price_pence{at}")
            expires = typed.day(f"expires_on{at}")
            if taken is not None:
                form.used.append(at)
                batch = typed.text(f"batch{at}")
                lines.append(Bought(taken.item_id, taken.quantity, batch, expires, price))
        _something(typed, form)
        on, to = typed.day("on", needed=True), _place(typed, "to")
        if on is None or to is None:
            return None
        return Delivery(on, to, tuple(lines), None, tidy(typed.text("supplier")), typed.text("note"))

    form = LinesForm(
        "A delivery", "Write it in", read, today, line, f"Every line is a lot of its own. {_AS_TYPED}"
    )
    names = [("", ""), *((name, name) for _, name in choices.suppliers)]
    form.add_side_by_side(
        {
            "supplier": Field("From", editor=narrow(names, free=True)),
            "on": Field("Day", long(today), width=102),
        }
    )
    form.add_side_by_side({"to": Field("Into", editor=narrow(place_options(choices))), "note": Field("Note")})
    form.place_lines()
    form.caution(LIFT)
    form.set_values({"to": usual_place(choices)})
    if first is not None:
        form.set_values({"supplier": first.supplier, "item_id1": str(first.id)})
    return form


def move_form(choices: Choices, today: date, first: Item | None = None) -> LinesForm:
    """Goods carried from one place to another; makes a ``StockMove``."""
    items = kept_items(choices)

    def read(typed: Typed) -> StockMove | None:
        lines = _lines(typed, items, form)
        on, source, target = typed.day("on", needed=True), _place(typed, "source"), _place(typed, "target")
        if on is None or source is None or target is None:
            return None
        return StockMove(on, source, target, lines, typed.text("note"), form.asked)

    form = LinesForm(
        "Carry to another place", "Write it down", read, today, lambda: (_what(items),),
        f"What expires first is taken first. {_AS_TYPED}",
    )  # fmt: skip
    places = place_options(choices, hives=True)
    form.add_side_by_side(
        {"source": Field("From", editor=narrow(places)), "target": Field("To", editor=narrow(places))}
    )
    form.add_side_by_side({"on": Field("Day", long(today), width=102), "note": Field("Note")})
    form.place_lines()
    form.caution(LIFT)
    form.set_values({"source": usual_place(choices)} | _first(first))
    return form


def use_form(choices: Choices, today: date, first: Item | None = None, *, wasted: bool = False) -> LinesForm:
    """What was used up, or spoiled; makes a ``StockUse``."""
    items = kept_items(choices)

    def read(typed: Typed) -> StockUse | None:
        lines = _lines(typed, items, form)
        on, source = typed.day("on", needed=True), _place(typed, "source")
        reason = typed.wanted("reason", "say what became of it") if wasted else typed.text("reason")
        if on is None or source is None:
            return None
        return StockUse(on, source, lines, reason, typed.text("note"), form.asked)

    note = "Feed that a round gave, jars of a jarring and printed labels are taken off by those; they are not typed here."
    form = LinesForm(
        "Wasted" if wasted else "Used up",
        "Write it down",
        read,
        today,
        lambda: (_what(items),),
        f"{note} {_AS_TYPED}",
    )
    form.add_side_by_side(
        {
            "source": Field("From", editor=narrow(place_options(choices))),
            "on": Field("Day", long(today), width=102),
        }
    )
    prompt = "burst sack, mice, past its date" if wasted else "fed at the mating yard"
    form.add_side_by_side(
        {"reason": Field("What became of it" if wasted else "What for", prompt=prompt), "note": Field("Note")}
    )
    form.place_lines()
    form.set_values({"source": usual_place(choices)} | _first(first))
    return form


def turn_form(choices: Choices, today: date, item: Item) -> TypedForm:
    """Boxes of one state that are in another one now; makes a ``Turning``."""
    others = [
        one for one in kept_items(choices)
        if one.kind is ItemKind.BOX and one.id != item.id and (one.box, one.frame_size) == (item.box, item.frame_size)
    ]  # fmt: skip

    def read(typed: Typed) -> Turning | None:
        quantity, on = typed.whole("quantity"), typed.day("on", needed=True)
        if not quantity:
            typed.refuse("quantity", "how many boxes?")
        at, into = _place(typed, "at"), typed.text("into_id")
        if not into:
            typed.refuse(
                "into_id", "boxes of another state are not kept yet", "Add an item for that state first"
            )
        if on is None or at is None or not into:
            return None
        return Turning(on, at, item.id, int(into), quantity or 0, typed.text("note"), form.asked)

    form = TypedForm("Another state", "Write it down", read, today, f"So many of {item.name} are now:")
    states = [(str(one.id), f"{STATE_WORDS.get(one.box_state or '', '')}: {one.name}") for one in others]
    form.add_side_by_side(
        {"quantity": Field("Boxes", width=90), "into_id": Field("Now", editor=narrow(states))}
    )
    form.add_side_by_side(
        {
            "at": Field("Where", editor=narrow(place_options(choices))),
            "on": Field("Day", long(today), width=102),
        }
    )
    form.add("note", Field("Note"))
    form.set_values({"at": usual_place(choices)})
    return form


def counter_form(entry: EntryRow, item: Item, today: date) -> TypedForm:
    """Taking back one entry by its opposite; makes the reason."""
    what = f"{said(entry.quantity, item.unit)} of {item.name}, {entry.source.name} to {entry.target.name}, {long(entry.on)}"
    form = TypedForm(
        "Take back an entry", "Take it back", lambda typed: typed.wanted("reason", "say why"), today,
        f"{what}. The entry stays and its opposite is written, with the reason.",
    )  # fmt: skip
    form.add("reason", Field("Why", prompt="typed twice, the wrong sack"))
    return form


def store_form(choices: Choices, today: date, note: str = "") -> TypedForm:
    """A store, or another name for one; makes the number of the store (None: a new one) and a ``NewStore``."""
    stores = {str(one.number): one for one in choices.places if one.kind is Account.STORE}

    def read(typed: Typed) -> tuple[int | None, NewStore]:
        which = typed.text("which")
        name = typed.wanted("name", "a store needs a name")
        return (int(which) if which else None, NewStore(name, typed.text("usual") == "yes"))

    form = TypedForm(
        "Stores", "Save", read, today,
        note or "Rounds, jarrings and labels take from the usual store. A store is a room or a shed of the farm's own.",
    )  # fmt: skip
    if stores:
        names = [("", "a new store"), *((key, one.name) for key, one in stores.items())]
        form.add("which", Field("Which", editor=narrow(names)))
    form.add_side_by_side(
        {
            "name": Field("Name", prompt="barn, honey room, cold store"),
            "usual": Field("The usual one", editor=narrow([("no", "no"), ("yes", "yes")]), width=90),
        }
    )
    if stores:
        form.fields["which"].changed.connect(lambda _words: _bring_store(form, stores))
    else:
        form.set_values({"usual": "yes"})
    return form


def _bring_store(form: TypedForm, stores: Mapping[str, Place]) -> None:
    store = stores.get(form.fields["which"].value())
    form.set_values({"name": store.name if store else "", "usual": "yes" if store and store.usual else "no"})


def item_words(item: Item) -> str:
    """An item in a choice."""
    pack = f"  {packs_words(1, item.pack_word)[2:]} of {said(item.pack, item.unit)}" if item.pack else ""
    return f"{item.name}{pack}"


def _what(items: Sequence[Item]) -> dict[str, Field]:
    options = [("", ""), *((str(item.id), item_words(item)) for item in items)]
    return {
        "item_id": Field("What", editor=narrow(options, free=True)),
        "quantity": Field("How much", width=92),
    }


def _first(item: Item | None) -> dict[str, str]:
    return {"item_id1": str(item.id)} if item is not None else {}


def _lines(typed: Typed, items: Sequence[Item], form: LinesForm) -> tuple[Taken, ...]:
    found = []
    form.used = []
    for at in range(1, form.lines + 1):
        taken = _taken(typed, items, at)
        if taken is not None:
            form.used.append(at)
            found.append(taken)
    _something(typed, form)
    return tuple(found)


def _something(typed: Typed, form: LinesForm) -> None:
    if not form.used and not typed.findings:
        typed.refuse("item_id1", "nothing is named yet", "Type the item, and how much of it")


def _taken(typed: Typed, items: Sequence[Item], at: int) -> Taken | None:
    words, much = typed.text(f"item_id{at}"), typed.text(f"quantity{at}")
    if not words:
        if much:
            typed.refuse(f"item_id{at}", "of what?")
        return None
    try:
        item = find_item(items, words)
    except ValueError as error:
        typed.refuse(f"item_id{at}", str(error), "Choose one of the list")
        return None
    if not much:
        typed.refuse(f"quantity{at}", "how much?")
        return None
    try:
        return Taken(item.id, read_quantity(much, item.unit, item.pack, item.pack_word))
    except ValueError as error:
        typed.refuse(f"quantity{at}", str(error))
        return None


def _place(typed: Typed, field: str) -> At | None:
    at = read_at(typed.text(field))
    if at is None:
        typed.refuse(field, "no place is named", "Choose one of the list")
    return at


def _pence(typed: Typed, field: str) -> int | None:
    text = typed.text(field).lstrip("£")
    if not text:
        return None
    try:
        return to_scale(text, 100)
    except ValueError as error:
        typed.refuse(field, str(error), "Type it as 32.50")
        return None
