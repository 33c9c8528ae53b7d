"""People and firms: what each is to the farm, how to reach it, and the erasing of a private person."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date

from beeledger.base.dates import long
from beeledger.base.text import counted
from beeledger.database.scrubbing import scrub
from beeledger.operations.act import Done
from beeledger.operations.erasure import erase_party
from beeledger.operations.parties import NewParty, add_party, change_party
from beeledger.queries.parties import ROLES, PartyLine, list_parties, party_stands_in
from beeledger.ui.desk.desk import Desk
from beeledger.ui.desk.jobs import Job
from beeledger.ui.parts.typed_form import Typed, TypedForm
from beeledger.ui.places.settings.listing import ListCard, Listing
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.cells import Cell, Column, Row
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.fact_rows import Fact
from beeledger.ui.widgets.field import Field, note_editor
from beeledger.ui.widgets.look import Token

KEEP, ERASE = "Keep as it is", "Erase for good"
COLUMNS = (
    Column("name", "Name", sample="A name of some length", slack=True),
    Column("roles", "What it is to the farm", sample="landholder, customer", slack=True),
    Column("phone", "Telephone", sample="01234 567 8901"),
)
_YES = (("", "no"), ("yes", "yes"))


class People(Listing):
    """Landholders, growers, customers, suppliers, authorities, extractors."""

    def __init__(self, desk: Desk, after_erasure: Callable[[], None]) -> None:
        self._change, self._erase = Button("Change", self.change), Button("Erase", self.erase)
        self._clean = Button("Clean the file", self.clean)
        for button, word in ((self._change, "change"), (self._erase, "erase"), (self._clean, "clean")):
            button.setObjectName(f"settings.people.card.{word}")
        self.card = ListCard("settings.people", "Nobody chosen", self._change, self._erase, self._clean)
        self.lines: dict[int, PartyLine] = {}
        self._after_erasure = after_erasure
        self._wanted: int | None = None
        empty = (
            "No one is in the record yet",
            "Landholders, growers, customers and suppliers come in as they are named.",
        )
        super().__init__(desk, "settings.people", COLUMNS, "New person or firm", empty, self.card)

    def refresh(self) -> None:
        """Read the list."""
        self.desk.read(list_parties, owner=self, then=self._show, key="list")

    def new(self) -> None:
        """Add a person or firm."""
        self.ask(party_form(self.desk.clock.today()), lambda new, send: send(add_party, new))

    def change(self) -> None:
        """Change name, roles and contact of the chosen one."""
        line = self.line()
        if line is not None and line.erased_on is None:
            form = party_form(self.desk.clock.today(), line)
            self.ask(form, lambda new, send: send(change_party, line.id, new))

    def erase(self) -> None:
        """Ask whether the chosen one is to be erased, saying what that means for the records that name it."""
        line = self.line()
        if line is None or line.erased_on is not None:
            return

        def counted_up(stands: tuple[tuple[str, int], ...]) -> None:
            self.desk.ask(f"Erase {line.name}?", erase_words(stands), (KEEP, ERASE), answered)

        def answered(answer: str | None) -> None:
            if answer == ERASE:
                self.desk.act(erase_party, line.id, owner=self, then=self._erased)

        self.desk.read(party_stands_in, line.id, owner=self, then=counted_up, key="stands")

    def clean(self) -> None:
        """Write the file anew, so that nothing of what was erased is left in it."""
        self._scrub(frozenset({"party", "party_contact"}))

    def line(self) -> PartyLine | None:
        """The chosen one."""
        return self.lines.get(self.chosen() or 0)

    def show_chosen(self) -> None:
        """Show the card of the chosen one."""
        line = self.line()
        if line is None:
            self.card.show_nothing()
            return
        self.card.show_facts(line.name, party_facts(line), party_under(line))
        for button in (self._change, self._erase):
            button.setVisible(line.erased_on is None)
        self._clean.setVisible(line.erased_on is not None)

    def _erased(self, done: Done) -> None:
        self._scrub(done.touched)

    def _scrub(self, tables: frozenset[str]) -> None:
        def work(_job: Job) -> None:
            scrub(self.desk.ledger, tables)

        def cleaned(_nothing: None) -> None:
            self.desk.say("Erased: nothing of it is left in the ledger's file", "done")
            self._after_erasure()

        self.desk.run("Writing the file without what was erased", work, owner=self, then=cleaned)

    def _show(self, lines: tuple[PartyLine, ...]) -> None:
        self.lines = {line.id: line for line in lines}
        self.set_rows([party_row(line) for line in lines])


def party_row(line: PartyLine) -> Row:
    """A party as a row; contact and person are searched too."""
    ink: Token = "ink" if line.erased_on is None else "ink2"
    cells = (
        Cell(line.name, ink=ink, weight=600 if line.erased_on is None else 400),
        Cell(", ".join(line.roles), ink=ink),
        Cell(line.phone),
    )
    searched = " ".join((line.name, *line.roles, line.person, line.phone, line.email, line.address))
    return Row(line.id, cells, search=searched)


def party_facts(line: PartyLine) -> list[Fact]:
    """What is known of a party; what is not known is left out."""
    said = (
        ("Person", line.person),
        ("Address", ", ".join(line.address.splitlines())),
        ("Telephone", line.phone),
        ("E-mail", line.email),
    )
    return [Fact(name, value) for name, value in said if value]


def party_under(line: PartyLine) -> str:
    """The sentence under the name: what it is to the farm, or that it was erased."""
    if line.erased_on is None:
        return ", ".join(line.roles)
    return f"erased {long(line.erased_on)}. Backups from before still hold it; the list of backups says when each goes"


def erase_words(stands: Sequence[tuple[str, int]]) -> str:
    """What erasing means, said before it is done."""
    number = sum(count for _table, count in stands)
    keep = "keeps" if number == 1 else "keep"
    where = (
        f"{counted(number, 'record')} that point here {keep} a mark in place of the name. " if number else ""
    )
    return (
        f"{where}Name, address, telephone and e-mail are blanked here, in History and wherever the words stand in notes "
        "and names. This cannot be taken back. The law may ask that buyers of honey and suppliers of medicine stay on "
        "record for years: see that it does not before you erase one. Files hung on records are not looked into, nor "
        "copies kept elsewhere; backups from before are kept for 31 days and then removed."
    )


def party_form(today: date, line: PartyLine | None = None) -> TypedForm:
    """A new party, or ``line`` to be changed."""

    def read(typed: Typed) -> NewParty:
        roles = tuple(role for role in ROLES if typed.text(role))
        name = typed.wanted("name", "a person or firm needs a name")
        return NewParty(
            name, roles, typed.text("person"), typed.text("address"), typed.text("phone"), typed.text("email")
        )

    title, word = ("New person or firm", "Add") if line is None else (f"Change {line.name}", "Save")
    note = "Person, address, telephone and e-mail are not copied into History, so that they can be erased."
    form = TypedForm(title, word, read, today, note)
    form.add("name", Field("Name"))
    for three in (ROLES[:3], ROLES[3:]):
        form.add_side_by_side({role: Field(role.capitalize(), editor=Choice(_YES)) for role in three})
    form.add("person", Field("Whom to ask for"))
    form.add("address", Field("Address, a line each", editor=note_editor()))
    form.add_side_by_side({"phone": Field("Telephone"), "email": Field("E-mail")})
    if line is not None:
        form.set_values({role: "yes" if role in line.roles else "" for role in ROLES})
        form.set_values(
            {
                "name": line.name,
                "person": line.person,
                "address": line.address,
                "phone": line.phone,
                "email": line.email,
            }
        )
    return form
