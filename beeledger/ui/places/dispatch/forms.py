"""The forms of what leaves, comes back or is lost, and what each makes of what was typed."""

from __future__ import annotations

from datetime import date

from beeledger.base.dates import long
from beeledger.base.text import counted, folded
from beeledger.base.units import kilograms
from beeledger.operations.dispatches import Contact, DispatchLine, NewDispatch, Returned, ReturnLine
from beeledger.operations.jars import JarsLost
from beeledger.queries.records.dispatch_desk import WAY_WORDS, DispatchCard, DispatchChoices, SentLine
from beeledger.queries.records.jar_lot import JarLot
from beeledger.rules.lot_marks import read_mark
from beeledger.ui.parts.licence import add_licence, licence_in
from beeledger.ui.parts.lines_form import LinesForm
from beeledger.ui.parts.typed_form import Typed, TypedForm
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.field import Field

MOST_LINES = 12
_CONTACT = ("person", "phone", "address", "email")
_LIFT = "Full cartons and drums are heavier than one person should lift."


class Stock:
    """What can go, found again by the key of a choice, by its words, or by a mark as somebody typed it."""

    def __init__(self, choices: DispatchChoices) -> None:
        self.jars = {lot.lot_id: lot for lot in choices.jars}
        self.options = [(str(lot.lot_id), jar_words(lot)) for lot in choices.jars]
        self.options += [
            (str(lot.lot_id), f"{lot.name}  {kilograms(lot.left_g)} kg{_held(lot.hold)}")
            for lot in choices.bulk
        ]
        self._names = {folded(lot.name): lot.lot_id for lot in choices.jars}
        self._names |= {folded(lot.name): lot.lot_id for lot in choices.bulk}
        self._words: dict[str, int] = {folded(words): int(key) for key, words in self.options}

    def find(self, typed: str) -> int:
        """The lot that was meant. ValueError with a sentence when there is none."""
        if typed.isdecimal() and any(key == typed for key, _ in self.options):
            return int(typed)
        for known in (self._words, self._names):
            if (found := known.get(folded(typed))) is not None:
                return found
        mark = str(read_mark(typed))
        found = self._names.get(folded(mark))
        if found is None:
            raise ValueError(f"no jar of L {mark} is on the farm")
        return found


class DispatchForm(LinesForm):
    """A dispatch: to whom, by which lots. A line more is added by its button."""

    def __init__(self, choices: DispatchChoices, today: date) -> None:
        super().__init__(
            "New dispatch", "Write down", self.read_dispatch, today, self._lot,
            "A lot mark leads to everybody who got jars of it. What is sold to the public needs no name.",
            most=MOST_LINES, another="Another lot",
        )  # fmt: skip
        self.choices, self.stock = choices, Stock(choices)
        self._filled: dict[str, str] = {}
        self.more.setObjectName("dispatch.form.more")
        self._add_fields(today)
        self.fields["party"].changed.connect(self._fill_contact)

    def _lot(self) -> tuple[dict[str, Field]]:
        lot = Field("Lot mark, or a drum", editor=Choice([("", ""), *self.stock.options], free=True))
        return ({"lot": lot, "jars": Field("Jars, or kg", width=110, prompt="all of it")},)

    def read_dispatch(self, typed: Typed) -> NewDispatch:
        """What was typed, with what cannot be read said beside its field."""
        lines = []
        self.used = []
        for at in range(1, self.lines + 1):
            line = self._line(typed, at)
            if line is not None:
                lines.append(line)
                self.used.append(at)
        if not lines and not typed.findings:
            typed.refuse("lot1", "nothing goes out yet", "Type a lot mark, or choose one")
        return NewDispatch(
            typed.day("on", needed=True) or typed.today, tuple(lines), typed.text("party"), typed.text("way"),
            typed.text("reference"), typed.text("note"), Contact(*(typed.text(name) for name in ("person", "address", "phone", "email"))),
            licence_in(typed),
        )  # fmt: skip

    def _line(self, typed: Typed, at: int) -> DispatchLine | None:
        words, many = typed.text(f"lot{at}"), typed.text(f"jars{at}")
        if not words:
            if many:
                typed.refuse(f"lot{at}", "its lot mark is missing")
            return None
        try:
            lot_id = self.stock.find(words)
        except ValueError as error:
            typed.refuse(f"lot{at}", str(error), "Read it again from the jar")
            return None
        if lot_id in self.stock.jars:
            jars = typed.whole(f"jars{at}")
            if not jars:
                typed.refuse(f"jars{at}", "how many jars?")
            return DispatchLine(lot_id, jars)
        return DispatchLine(lot_id, None, typed.whole(f"jars{at}", 1000))

    def _fill_contact(self, _words: str) -> None:
        """What is known of a receiver stands in the fields that nobody has typed in."""
        known = self.choices.contacts.get(self.fields["party"].value())
        for name in _CONTACT:
            words = getattr(known, name) if known else ""
            if self.fields[name].value() == self._filled.get(name, ""):
                self.fields[name].set_value(words)
                self._filled[name] = words

    def _add_fields(self, today: date) -> None:
        names = [(name, name) for name in ("", *self.choices.customers)]
        self.add("party", Field("To whom", editor=Choice(names, free=True)))
        self.add_side_by_side(
            {
                "way": Field("How", editor=Choice(list(WAY_WORDS.items()))),
                "on": Field("Day", long(today), width=120),
            }
        )
        self.place_lines()
        self.add_side_by_side({"person": Field("Person"), "phone": Field("Telephone")})
        self.add_side_by_side({"address": Field("Postal address"), "email": Field("E-mail")})
        self.add_side_by_side({"reference": Field("Paper that goes along"), "note": Field("Note")})
        add_licence(self)
        self.caution(f"{_LIFT} Honey is not for infants under 12 months.")


def back_form(card: DispatchCard, today: date) -> TypedForm:
    """What came back of a dispatch."""
    out = [line for line in card.lines if line.transfer_id is not None]

    def read(typed: Typed) -> Returned:
        lines = tuple(line for each in out if (line := _came_back(typed, each)) is not None)
        if not lines and not typed.findings:
            typed.refuse(f"back{out[0].transfer_id}", "how many came back?")
        why = typed.wanted("why", "say why it came back: it is held until that is settled")
        return Returned(card.row.id, typed.day("on", needed=True) or today, why, lines)

    note = "What came back stands apart, on hold. Nobody gets it before it is freed for a written reason."
    form = TypedForm(f"Back from {card.row.receiver or 'them'}", "Take it back", read, today, note)
    for line in out:
        form.add(f"back{line.transfer_id}", Field(_still_out(line), width=150))
    form.add("why", Field("Why", prompt="a loose lid, a complaint, not sold"))
    form.add("on", Field("Day", long(today), width=130))
    return form


def lost_form(choices: DispatchChoices, today: date) -> TypedForm:
    """Jars that are broken, destroyed or opened."""

    def read(typed: Typed) -> JarsLost:
        jars = typed.whole("jars")
        if not typed.text("lot_id"):
            typed.refuse("lot_id", "no jars are on the farm")
        if not jars:
            typed.refuse("jars", "how many jars?")
        why = typed.wanted("why", "say what became of them")
        on = typed.day("on", needed=True) or today
        return JarsLost(int(typed.text("lot_id") or 0), on, jars or 0, why, typed.text("sink"))

    note = (
        "Jars on hold can be written off too. Broken glass near open honey: what may hold splinters is lost."
    )
    form = TypedForm("Jars lost", "Write it down", read, today, note)
    options = [(str(lot.lot_id), jar_words(lot)) for lot in choices.jars]
    form.add("lot_id", Field("Of", editor=Choice(options)))
    form.add_side_by_side(
        {
            "jars": Field("Jars", width=90),
            "sink": Field("What became of them", editor=Choice([("loss", "broken or destroyed"), ("sample", "opened as a sample")]), width=190),
            "on": Field("Day", long(today), width=130),
        }
    )  # fmt: skip
    form.add("why", Field("How it came", prompt="a dropped carton, sent to the laboratory"))
    return form


def hold_form(lot: JarLot, today: date) -> TypedForm:
    """Hold jars, or free them."""
    form = TypedForm(
        f"{'Free' if lot.hold else 'Hold'} L {lot.name}", "Free them" if lot.hold else "Hold them",
        lambda typed: (lot.lot_id, typed.wanted("why", "say why")), today,
        f"Held: {lot.hold}." if lot.hold else "Nothing of it goes out until it is freed for a written reason.",
    )  # fmt: skip
    form.add("why", Field("Why they may go" if lot.hold else "Why"))
    if lot.hold:
        form.caution("Whether honey is safe is for the law and its officers, not for this program.")
    return form


def jar_words(lot: JarLot) -> str:
    """A lot of jars in a choice."""
    return f"{lot.name}  {lot.product}, {lot.jar_g:,} g, {counted(lot.left, 'jar')}{_held(lot.hold)}"


def _held(hold: str | None) -> str:
    return f"  held: {hold}" if hold else ""


def _still_out(line: SentLine) -> str:
    if line.out is None:
        return f"{line.lot_mark}, {kilograms(line.grams, 3)} kg: type all if it came back"
    return f"Jars of L {line.lot_mark}, of which {line.out:,} are out"


def _came_back(typed: Typed, line: SentLine) -> ReturnLine | None:
    name = f"back{line.transfer_id}"
    if not typed.text(name) or line.transfer_id is None:
        return None
    if line.out is None:
        if folded(typed.text(name)) == "all":
            return ReturnLine(line.transfer_id)
        typed.refuse(name, "what went by weight comes back whole", "Type all, or leave it empty")
        return None
    jars = typed.whole(name)
    if jars is not None and not 1 <= jars <= line.out:
        typed.refuse(name, f"{counted(line.out, 'jar')} of it are out")
    return ReturnLine(line.transfer_id, jars)
