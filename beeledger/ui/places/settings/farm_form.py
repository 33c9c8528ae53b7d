"""The farm's own decisions as a form: name, addresses, lot marks, lines and habits."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.units import to_scale
from beeledger.queries.farm import FarmSettings
from beeledger.rules.label_codes import is_gtin
from beeledger.rules.lot_marks import is_prefix
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.field import Field, note_editor
from beeledger.ui.widgets.form import Form

_YES_NO = (("yes", "printed"), ("no", "not printed"))
_ZONES = (
    "Europe/London",
    "Europe/Dublin",
    "Europe/Paris",
    "Europe/Berlin",
    "Pacific/Auckland",
    "America/New_York",
)


class FarmForm(Form):
    """What the farm has decided about itself; saved as one act."""

    def __init__(self) -> None:
        super().__init__("The farm", "Save the farm")
        self.setObjectName("settings.farm")
        self.add("name", Field("Name of the farm", prompt="as customers know it"))
        self.add("address", Field("Postal address, a line each", editor=note_editor()))
        self.add("packer_address", Field("Address on labels, where it differs", editor=note_editor()))
        self.add("contact", Field("Telephone or e-mail on papers"))
        self.add_side_by_side(
            {
                "zone": Field("Time zone", editor=Choice([(zone, zone) for zone in _ZONES], free=True)),
                "origin": Field("Country on labels"),
            }
        )
        self.add_side_by_side(
            {
                "best_before_months": Field("Best before", unit="months"),
                "mite_line": Field("Treat from", unit="mites in 100"),
            }
        )
        self.add_side_by_side(
            {
                "lot_prefix": Field("Letters of lot marks", prompt="2 to 4 letters"),
                "holding_number": Field("Holding number"),
            }
        )
        self.add_side_by_side(
            {
                "food_name": Field("Name of the food on labels", prompt="Honey"),
                "infant_caution": Field("Caution for infants on labels", editor=Choice(_YES_NO)),
            }
        )
        self.add("gtins", Field("Article numbers: grams, then the number, a line each", editor=note_editor()))
        for name, field in self.fields.items():
            field.setObjectName(f"settings.farm.{name}")
        self.caution(
            "Labels and papers are checked against the rules this program knows; local law stands above it."
        )

    def fill(self, farm: FarmSettings) -> None:
        """Show what is settled now."""
        self.set_values(self.values_of(farm))

    def values_of(self, farm: FarmSettings) -> dict[str, str]:
        """What stands in the fields when nobody has changed anything."""
        return {
                "name": farm.name, "address": "\n".join(farm.address), "packer_address": "\n".join(farm.packer_address),
                "contact": farm.contact, "zone": farm.zone, "origin": farm.origin,
                "best_before_months": str(farm.best_before_months),
                "mite_line": f"{farm.mite_line_hundredths / 100:g}", "lot_prefix": farm.lot_prefix,
                "holding_number": farm.holding_number, "food_name": farm.food_name,
                "infant_caution": "yes" if farm.infant_caution else "no",
                "gtins": "\n".join(f"{grams} {number}" for grams, number in farm.gtins),
        }  # fmt: skip


def changes(farm: FarmSettings, values: Mapping[str, str]) -> tuple[dict[str, Any], list[Finding]]:
    """What differs from the farm as it is, and what could not be read, each with its field."""
    prefix = values["lot_prefix"].upper()
    wanted: dict[str, Any] = {
        "name": values["name"], "contact": values["contact"], "zone": values["zone"], "origin": values["origin"],
        "lot_prefix": prefix, "holding_number": values["holding_number"], "food_name": values["food_name"],
        "infant_caution": values["infant_caution"] == "yes",
        "address": _lines(values["address"]), "packer_address": _lines(values["packer_address"]),
    }  # fmt: skip
    wanted["gtins"], wrong = _gtins(values["gtins"])
    if not values["food_name"]:
        wrong.append(_wrong("food_name", "a label names its food", "Type it, as Honey"))
    if prefix and not is_prefix(prefix):
        what = f"{prefix} cannot begin a lot mark"
        wrong.append(_wrong("lot_prefix", what, "Take 2 to 4 capitals without I, O and L"))
    for key, field, scale in (
        ("best_before_months", "best_before_months", 1),
        ("mite_line_hundredths", "mite_line", 100),
    ):
        try:
            wanted[key] = to_scale(values[field], scale)
        except ValueError as error:
            wrong.append(_wrong(field, str(error), "Type a figure"))
    return {key: value for key, value in wanted.items() if value != getattr(farm, key)}, wrong


def _gtins(text: str) -> tuple[tuple[tuple[int, str], ...], list[Finding]]:
    """Grams and article number of each line; the check digit is GS1's (rules.label_codes)."""
    read: dict[int, str] = {}
    wrong: list[Finding] = []
    for line in text.splitlines():
        grams, _, rest = line.strip().partition(" ")
        number = "".join(rest.split())
        if not grams:
            continue
        if not grams.isdecimal() or not number:
            wrong.append(
                _wrong("gtins", f"{line.strip()} cannot be read", "Type grams, a space, and the number")
            )
        elif not is_gtin(number):
            wrong.append(
                _wrong("gtins", f"{number} is no article number: its last digit does not check", "Look at it")
            )
        elif int(grams) in read:
            wrong.append(_wrong("gtins", f"{grams} g stands twice", "Keep one number for each jar"))
        else:
            read[int(grams)] = number
    return tuple(sorted(read.items())), wrong


def _wrong(field: str, what: str, mend: str) -> Finding:
    return Finding("settings.unread", Grade.REFUSED, what, mend, Where(field=field))


def _lines(text: str) -> tuple[str, ...]:
    return tuple(line.strip() for line in text.splitlines() if line.strip())
