"""The form of a vehicle, new or changed."""

from __future__ import annotations

from datetime import date

from beeledger.base.units import scaled
from beeledger.operations.parties import NewVehicle
from beeledger.queries.parties import VehicleLine
from beeledger.ui.parts.typed_form import Typed, TypedForm
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.field import Field

_NOTE = "What it may carry stands on its plate; the plate and the licence stand above what is said here."


def vehicle_form(today: date, line: VehicleLine | None = None) -> TypedForm:
    """A new vehicle, or ``line`` to be changed or retired."""

    def read(typed: Typed) -> NewVehicle:
        name = typed.wanted("name", "a vehicle needs a name")
        places = typed.whole("places")
        if places is None:
            typed.refuse("places", "how many hives it takes is missing")
        payload = typed.whole("payload", 1000)
        return NewVehicle(
            name, places or 0, payload, typed.text("registration"), retired=typed.text("retired") == "yes"
        )

    title, word = ("Add a vehicle", "Add") if line is None else (f"Change {line.name}", "Save")
    form = TypedForm(title, word, read, today, _NOTE)
    form.add("name", Field("Name"))
    form.add_side_by_side(
        {
            "places": Field("Places for hives", width=110),
            "payload": Field("May carry", unit="kg", width=110),
            "registration": Field("Registration", width=110),
        }
    )
    if line is not None:
        offered = (("no", "in use"), ("yes", "retired: no longer offered for a move"))
        form.add("retired", Field("Whether it is used", editor=Choice(offered)))
        form.set_values(
            {
                "name": line.name,
                "places": str(line.places),
                "payload": "" if line.payload_g is None else scaled(line.payload_g, 1000),
                "registration": line.registration,
                "retired": "no" if line.retired_on is None else "yes",
            }
        )
    return form
