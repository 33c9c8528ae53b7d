"""The forms of Moves: a move typed by keyboard alone, the register's period."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from PySide6.QtCore import Qt, Signal, SignalInstance
from PySide6.QtGui import QKeySequence, QShortcut

from beeledger.base.dates import long, short
from beeledger.base.findings import Finding, Grade, Where, holds
from beeledger.base.text import counted
from beeledger.base.times import clock_words, read_minute
from beeledger.queries.move_typing import ReadMove, TypedMove
from beeledger.queries.records.move_desk import REASONS, MoveCard, MoveChoices
from beeledger.ui.parts.licence import add_licence, licence_in
from beeledger.ui.parts.sayings import Sayings
from beeledger.ui.parts.typed_form import Typed, TypedForm
from beeledger.ui.places.moves.table import marks_words
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.field import Field, note_editor
from beeledger.ui.widgets.form import Form
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.words import RunWords

_KIND_REASON = {"crop": "crop", "home": "home", "out": "forage", "mating": "mating", "quarantine": "health"}
_HALF_A_YEAR = timedelta(days=182)
_CAUTION = (
    "Hives are heavier than one person should lift: two people or a lifter. Closed bees overheat: mesh, water, no "
    "delay. Stings can kill those who are allergic."
)


class MoveForm(Form):
    """A trip: from, to, day and times, the hives as a list. What is said of it stands under the list."""

    wanted = Signal(object)
    """A ``TypedMove`` to be read against the record: at each change."""
    posted = Signal(object)
    """A ``TypedMove`` to be posted."""
    planned = Signal(object)
    """A ``TypedMove`` to be kept as a plan."""

    def __init__(self, choices: MoveChoices, today: date, card: MoveCard | None = None) -> None:
        title, word = ("New move", "Post")
        if card is not None:
            title, word = (
                ("Deliver a planned move", "Post")
                if card.row.state == "planned"
                else ("Correct a move", "Correct")
            )
        super().__init__(title, word, "All by keyboard: Tab on, Ctrl+Enter posts, Escape leaves.")
        self.choices = choices
        self.today = today
        self.card = card
        self.sheet_is_right = False
        self._lay_out_fields()
        self._say_under_list()
        self._lay_out_rest()
        self.keep = Button("Keep as plan", lambda: self._hand_over(self.planned))
        self.keep.setObjectName("moves.form.keep")
        self.foot.row.insertWidget(self.foot.row.count() - 1, self.keep)
        self.keep.setVisible(card is None)
        self.submitted.connect(lambda _values: self._hand_over(self.posted))
        self.changed.connect(lambda _values: self._look())
        self.fields["to"].changed.connect(lambda _word: self._goal_chosen())

    def typed(self) -> tuple[TypedMove, list[Finding]]:
        """What stands in the fields, and what of it cannot be read."""
        number = self.card.row.id if self.card else None
        return typed_move(self.values(), self.today, sheet_is_right=self.sheet_is_right, instead_of=number)

    def show_read(self, read: ReadMove) -> None:
        """Say what the typing comes to."""
        _, unread = self.typed()
        held = [each for each in read.findings if _beside_a_field(each)]
        rest = [finding for finding in read.findings if finding not in held]
        self.show_findings([*unread, *held])
        self.says.say(rest)
        if holds(rest):
            self.main.off("Something here cannot be true")
            self.foot.say([Run("Look at the hives above", "now", 600, mark=Mark.CANNOT, small=True)])
        self.counted.say(count_words(read))
        self.accept.setVisible(bool(read.against))
        self.accept.setText("Accepted: the record will be corrected" if self.sheet_is_right else _ACCEPT)

    def accept_sheet(self) -> None:
        """The sheet is right and the record is not: or the other way again."""
        if self.accept.isVisible():
            self.sheet_is_right = not self.sheet_is_right
            self._look()

    def fill(self, values: Mapping[str, str]) -> None:
        """Put values into the fields by their names."""
        self.set_values(values)

    def _lay_out_fields(self) -> None:
        sites = [("", ""), *((str(s.id), f"{s.name} ({s.hives})") for s in self.choices.sites)]
        self.add_side_by_side(
            {"from": Field("From", editor=Choice(sites)), "to": Field("To", editor=Choice(sites))}
        )
        self.add_side_by_side(
            {
                "on": Field("Day", short(self.today), width=104),
                "loaded": Field("Left", width=60, prompt="20:30"),
                "unloaded": Field("Arrived", width=60, prompt="21:15"),
                "arrived_on": Field("On day", width=98, prompt="the same"),
            }
        )
        self.add("hives", Field("Hives", prompt="12-18, 21, 40x is left behind; or all, or all not 12"))

    def _say_under_list(self) -> None:
        self.counted = RunWords(shorten=True)
        self.says = Sayings()
        self.says.setObjectName("moves.form.says")
        self.accept = Button(_ACCEPT, self.accept_sheet, kind="quiet")
        self.accept.setObjectName("moves.form.accept")
        self.accept.hide()
        for piece in (self.counted, self.says, self.accept):
            self.add_piece(piece)
        add_licence(self)
        shortcut = QShortcut(QKeySequence("Ctrl+R"), self)
        shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        shortcut.activated.connect(self.accept_sheet)

    def _lay_out_rest(self) -> None:
        vans = [("", ""), *((str(v.id), f"{v.name} ({v.places})") for v in self.choices.vehicles)]
        contracts = [("", ""), *((str(c.id), c.name) for c in self.choices.contracts)]
        self.add_side_by_side(
            {
                "vehicle": Field("Vehicle", editor=Choice(vans)),
                "driver": Field("Driver", width=100, prompt="RH"),
            }
        )
        self.add_side_by_side(
            {
                "contract": Field("For the contract", editor=Choice(contracts)),
                "reason": Field("Why", editor=Choice(REASONS)),
            }
        )
        self.add(
            "exempt",
            Field(
                "Distance",
                editor=Choice(
                    (
                        ("", "as usual"),
                        ("yes", "does not matter: cluster or swarm"),
                    )
                ),
                message=False,
            ),
        )
        self.add("note", Field("Note", editor=note_editor(), message=False))
        self.caution(_CAUTION)

    def _goal_chosen(self) -> None:
        """A crop site names its contract and why hives go there; both can be changed."""
        site = next((s for s in self.choices.sites if str(s.id) == self.fields["to"].value()), None)
        if site is None or self.card is not None:
            return
        here = [str(c.id) for c in self.choices.contracts if c.site_id == site.id]
        self.fields["contract"].set_value(here[0] if len(here) == 1 else "")
        self.fields["reason"].set_value(_KIND_REASON.get(site.kind, "other"))

    def _look(self) -> None:
        typed, unread = self.typed()
        self.show_findings(unread)
        self.wanted.emit(typed)

    def _hand_over(self, signal: SignalInstance) -> None:
        typed, unread = self.typed()
        missing = [*unread, *missing_in(typed)]
        self.show_findings(missing)
        if not missing:
            signal.emit(typed)


def _beside_a_field(finding: Finding) -> bool:
    """What cannot be true stands beside its field, and so does what a licence alone answers."""
    return finding.where.field == "licence" or (finding.grade is Grade.REFUSED and not finding.where.record)


_ACCEPT = "The sheet is right: correct the record (Ctrl+R)"


def typed_move(
    values: Mapping[str, str], today: date, *, sheet_is_right: bool = False, instead_of: int | None = None
) -> tuple[TypedMove, list[Finding]]:
    """The fields read as far as they can be; what cannot be read is a finding beside its field."""
    typed = Typed(
        values, today + _HALF_A_YEAR
    )  # a plan may be ahead: without a year the nearest day is meant
    on, arrived_on = typed.day("on"), typed.day("arrived_on")
    left, arrived = _minute(typed, "loaded"), _minute(typed, "unloaded")
    if left is not None and arrived is not None and arrived_on is None and on is not None and arrived < left:
        what = "Arrived before it left"
        typed.refuse("unloaded", what, "Type the day of arrival if it was past midnight")
    move = TypedMove(
        _id(values, "from"), _id(values, "to"), on, left, arrived, values["hives"], arrived_on,
        _id(values, "vehicle"), values["driver"], values["reason"] or "other", _id(values, "contract"),
        values["note"], values["exempt"] == "yes", sheet_is_right, instead_of, licence_in(typed),
    )  # fmt: skip
    return move, typed.findings


def missing_in(typed: TypedMove) -> list[Finding]:
    """What a move cannot be posted without."""
    wanted = (
        (typed.from_site_id is None, "from", "where from is missing"),
        (typed.to_site_id is None, "to", "where to is missing"),
        (typed.on is None, "on", "the day is missing"),
        (typed.left_minute is None, "loaded", "when it left is missing"),
        (typed.arrived_minute is None, "unloaded", "when it arrived is missing"),
        (not typed.hives.strip(), "hives", "which hives is missing"),
    )
    return [
        Finding("form.missing", Grade.REFUSED, what, where=Where(field=field))
        for missing, field, what in wanted
        if missing
    ]


def count_words(read: ReadMove) -> list[Run]:
    """How many go, of how many that stood there."""
    if not read.marks and not read.standing:
        return []
    runs = [Run(counted(len(read.marks), "hive"), "ink", 600, gap=8)]
    if read.left_behind:
        runs.append(Run(f"{len(read.left_behind)} left behind", "ink2", gap=8))
    runs.append(Run(f"of {read.standing} that stood there", "ink2", small=True))
    return runs


def values_of(card: MoveCard) -> dict[str, str]:
    """A move in the record as the form shows it."""
    move = card.as_typed
    went = [hive.mark for hive in card.hives if hive.outcome == "delivered"]
    behind = [hive.mark for hive in card.hives if hive.outcome == "left behind"]
    hives = ", ".join([*_typed_marks(went), *(f"{mark}x" for mark in behind)])
    return {
        "from": str(move.from_site_id), "to": str(move.to_site_id), "on": long(move.on),
        "loaded": clock_words(move.left_minute), "unloaded": clock_words(move.arrived_minute),
        "arrived_on": long(move.arrived_on) if move.arrived_on else "", "hives": hives,
        "vehicle": str(move.vehicle_id or ""), "driver": move.driver or "",
        "contract": str(move.contract_id or ""), "reason": move.reason, "exempt": "", "note": move.note or "",
    }  # fmt: skip


def is_plain(card: MoveCard) -> bool:
    """Whether the form can hold it: one way for all, and nothing lost on the way."""
    move = card.as_typed
    return all(
        hive.from_site_id is None and hive.to_site_id is None and hive.outcome != "lost"
        for hive in move.hives
    )


@dataclass(frozen=True, slots=True)
class RegisterWanted:
    """Which part of the log is printed."""

    first: date
    last: date
    site_id: int | None
    scope: str


def register_form(choices: MoveChoices, today: date, first: date, site_id: int | None = None) -> TypedForm:
    """The register's period and site."""
    names = {str(site.id): site.name for site in choices.sites}

    def read(typed: Typed) -> RegisterWanted | None:
        start, end = typed.day("first", needed=True), typed.day("last", needed=True)
        if start is None or end is None:
            return None
        if end < start:
            typed.refuse("last", "the period ends before it begins")
        site = typed.text("site")
        return RegisterWanted(start, end, int(site) if site else None, names.get(site, "all sites"))

    form = TypedForm(
        "Movement register",
        "Show",
        read,
        today,
        "Every hive that left or came in a period, oldest first. The law may ask how long registers are kept.",
    )
    form.add_side_by_side(
        {
            "first": Field("From", long(first), width=130),
            "last": Field("Until", long(today), width=130),
        }
    )
    form.add("site", Field("Site", editor=Choice([("", "all sites"), *names.items()])))
    form.set_values({"site": str(site_id or "")})
    return form


def _typed_marks(marks: Sequence[str]) -> list[str]:
    return [part.replace("–", "-") for part in marks_words(list(marks)).split(", ") if part]


def _minute(typed: Typed, field: str) -> int | None:
    if not typed.text(field):
        return None
    try:
        return read_minute(typed.text(field))
    except ValueError as error:
        typed.refuse(field, str(error), "Type it as 20:30")
        return None


def _id(values: Mapping[str, str], field: str) -> int | None:
    text = values.get(field, "")
    return int(text) if text.isdecimal() else None
