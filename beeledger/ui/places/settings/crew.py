"""The crew and the vehicles: lists of Settings with their forms."""

from __future__ import annotations

from datetime import date

from beeledger.base.dates import long
from beeledger.base.units import kilograms
from beeledger.operations.crew import add_crew_member, change_crew_member
from beeledger.operations.parties import add_vehicle, change_vehicle
from beeledger.queries.parties import CrewLine, VehicleLine, list_crew, list_vehicles
from beeledger.ui.desk.desk import Desk
from beeledger.ui.parts.typed_form import Typed, TypedForm
from beeledger.ui.parts.vehicle_form import vehicle_form
from beeledger.ui.places.settings.listing import ListCard, Listing
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.cells import Align, Cell, Column, Row
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.fact_rows import Fact
from beeledger.ui.widgets.field import Field
from beeledger.ui.widgets.look import Token

CREW_COLUMNS = (
    Column("initials", "Initials", sample="MMM"),
    Column("name", "Name", sample="A name of some length", slack=True),
    Column("state", "State", sample="left"),
)
VEHICLE_COLUMNS = (
    Column("name", "Vehicle", sample="A name of some length", slack=True),
    Column("registration", "Registration", sample="AB12 CDE"),
    Column("places", "Places", sample="999", align=Align.RIGHT),
    Column("payload", "May carry", unit="kg", sample="99,999", align=Align.RIGHT),
    Column("state", "State", sample="retired"),
)


class Crew(Listing):
    """Who drives out; known by initials on sheets."""

    def __init__(self, desk: Desk) -> None:
        self._change = Button("Change", self.change)
        self._change.setObjectName("settings.crew.card.change")
        self.card = ListCard("settings.crew", "Nobody chosen", self._change)
        self.lines: dict[int, CrewLine] = {}
        empty = ("No one is in the crew yet", "Initials stand on sheets and in rounds.")
        super().__init__(desk, "settings.crew", CREW_COLUMNS, "New member", empty, self.card)

    def refresh(self) -> None:
        """Read the crew."""
        self.desk.read(list_crew, owner=self, then=self._show, key="list")

    def new(self) -> None:
        """Take somebody on."""
        self.ask(
            crew_form(self.desk.clock.today()), lambda read, send: send(add_crew_member, read[0], read[1])
        )

    def change(self) -> None:
        """Change the name, or say that somebody left."""
        line = self.lines.get(self.chosen() or 0)
        if line is not None:
            form = crew_form(self.desk.clock.today(), line)
            self.ask(form, lambda read, send: send(change_crew_member, line.id, read[1], works_here=read[2]))

    def show_chosen(self) -> None:
        """Show the card of the chosen one."""
        line = self.lines.get(self.chosen() or 0)
        if line is None:
            self.card.show_nothing()
            return
        state = "works here" if line.works_here else "left; old rounds keep the initials"
        self.card.show_facts(line.name, [Fact("Initials", line.initials), Fact("State", state)])

    def _show(self, lines: tuple[CrewLine, ...]) -> None:
        self.lines = {line.id: line for line in lines}
        self.set_rows([crew_row(line) for line in lines])


class Vehicles(Listing):
    """Vans, lorries and trailers."""

    def __init__(self, desk: Desk) -> None:
        self._change = Button("Change", self.change)
        self._change.setObjectName("settings.vehicles.card.change")
        self.card = ListCard("settings.vehicles", "No vehicle chosen", self._change)
        self.lines: dict[int, VehicleLine] = {}
        empty = ("No vehicle is in the record yet", "Moves ask which one carried the hives.")
        super().__init__(desk, "settings.vehicles", VEHICLE_COLUMNS, "New vehicle", empty, self.card)

    def refresh(self) -> None:
        """Read the vehicles."""
        self.desk.read(list_vehicles, owner=self, then=self._show, key="list")

    def new(self) -> None:
        """Add a vehicle."""
        self.ask(vehicle_form(self.desk.clock.today()), lambda new, send: send(add_vehicle, new))

    def change(self) -> None:
        """Change or retire the chosen vehicle."""
        line = self.lines.get(self.chosen() or 0)
        if line is not None:
            form = vehicle_form(self.desk.clock.today(), line)
            self.ask(form, lambda new, send: send(change_vehicle, line.id, new))

    def show_chosen(self) -> None:
        """Show the card of the chosen vehicle."""
        line = self.lines.get(self.chosen() or 0)
        if line is None:
            self.card.show_nothing()
            return
        facts = [Fact("Places for hives", str(line.places))]
        if line.payload_g is not None:
            facts.append(Fact("May carry", f"{kilograms(line.payload_g, 0)} kg"))
        if line.registration:
            facts.append(Fact("Registration", line.registration))
        under = "" if line.retired_on is None else f"retired {long(line.retired_on)}"
        self.card.show_facts(line.name, facts, under)

    def _show(self, lines: tuple[VehicleLine, ...]) -> None:
        self.lines = {line.id: line for line in lines}
        self.set_rows([vehicle_row(line) for line in lines])


def crew_row(line: CrewLine) -> Row:
    """One of the crew as a row."""
    ink: Token = "ink" if line.works_here else "ink2"
    state = Cell("" if line.works_here else "left", ink="ink2")
    return Row(line.id, (Cell(line.initials, ink=ink, weight=600), Cell(line.name, ink=ink), state))


def vehicle_row(line: VehicleLine) -> Row:
    """A vehicle as a row."""
    ink: Token = "ink" if line.retired_on is None else "ink2"
    payload = "" if line.payload_g is None else kilograms(line.payload_g, 0)
    cells = (
        Cell(line.name, ink=ink, weight=600),
        Cell(line.registration, ink=ink),
        Cell(str(line.places), ink=ink),
        Cell(payload, ink=ink),
        Cell("" if line.retired_on is None else "retired", ink="ink2"),
    )
    return Row(
        line.id, cells, sort=(line.name, line.registration, line.places, line.payload_g, cells[4].text)
    )


def crew_form(today: date, line: CrewLine | None = None) -> TypedForm:
    """Somebody new, or ``line`` to be changed: initials stay, for they stand in old rounds."""

    def read(typed: Typed) -> tuple[str, str, bool]:
        initials = line.initials if line is not None else typed.wanted("initials", "initials are needed")
        return initials, typed.text("name"), typed.text("works") != "no"

    if line is None:
        form = TypedForm("New member of the crew", "Take on", read, today)
        form.add("initials", Field("Initials", width=110, prompt="as on sheets"))
        form.add("name", Field("Name"))
        return form
    form = TypedForm(
        f"Change {line.initials}", "Save", read, today, "The initials stay: old rounds bear them."
    )
    form.add("name", Field("Name", line.name))
    form.add("works", Field("Whether they work here", editor=Choice((("yes", "works here"), ("no", "left")))))
    form.set_values({"works": "yes" if line.works_here else "no"})
    return form
