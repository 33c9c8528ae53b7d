"""The form of a site: the grid reference is read while it is typed, with the degrees it means."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date

from beeledger.base.dates import long
from beeledger.base.findings import Where
from beeledger.base.units import scaled
from beeledger.operations.sites import NewSite
from beeledger.queries.records.sites import SiteCard
from beeledger.rules.sites import check_grid, read_grid, to_lat_lon
from beeledger.ui.parts.typed_form import Typed, TypedForm
from beeledger.ui.places.sites.table import KINDS
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.field import Field, note_editor
from beeledger.ui.widgets.words import Words

_NO_PLACE = "Without a place the site is in the table and not on the map."


class SiteForm(TypedForm):
    """Add or change a site."""

    def __init__(self, title: str, act_word: str, today: date, landholders: Sequence[str]) -> None:
        super().__init__(title, act_word, read_site, today)
        self.add_side_by_side(
            {"name": Field("Name"), "code": Field("Code", prompt="from its name", width=120)}
        )
        self.add("kind", Field("Kind", editor=Choice(KINDS), message=False))
        self.add("grid", Field("Grid reference", prompt="SO 392 751"))
        self.add_side_by_side(
            {
                "latitude": Field("Outside Great Britain: latitude", prompt="43.10012"),
                "longitude": Field("and longitude", prompt="5.90034"),
            }
        )
        self.meant = Words(_NO_PLACE, role="small", ink="ink2", wrap=True)
        self.add_piece(self.meant)
        self.add_side_by_side(
            {"capacity": Field("Room for", unit="hives", width=100), "apiary_number": Field("Apiary number")}
        )
        self.add("way_in", Field("The way in: gate, key, contact", message=False))
        options = [("", "")] + [(name, name) for name in landholders]
        self.add("landholder", Field("Landholder", editor=Choice(options, free=True), message=False))
        self.add_side_by_side(
            {
                "rent": Field("Rent a year", unit="£", width=110),
                "rent_jars": Field("or", unit="jars", width=110),
            }
        )
        self.add_side_by_side(
            {
                "permission_from": Field("Permission from", width=150),
                "permission_until": Field("until", width=150),
            }
        )
        self.add("forage", Field("Forage by month", message=False))
        self.add("other_bees", Field("Other bees near", message=False))
        self.add("note", Field("Note", editor=note_editor(), message=False))
        self.changed.connect(self._say_place)
        self.submitted.connect(self._say_place)

    def fill(self, card: SiteCard) -> None:
        """Show a site as it is."""
        line = card.line
        abroad = line.grid is None and line.latitude_e6 is not None and line.longitude_e6 is not None
        self.set_values(
            {
                "name": line.name, "code": line.code, "kind": line.kind, "grid": line.grid or "",
                "latitude": _degrees(line.latitude_e6) if abroad else "",
                "longitude": _degrees(line.longitude_e6) if abroad else "",
                "capacity": "" if line.capacity is None else str(line.capacity), "apiary_number": card.apiary_number,
                "way_in": card.way_in, "landholder": line.landholder, "forage": card.forage, "other_bees": card.other_bees,
                "rent": "" if card.rent_pence is None else scaled(card.rent_pence, 100, 2),
                "rent_jars": "" if card.rent_jars is None else str(card.rent_jars),
                "permission_from": _day(card.permission_from), "permission_until": _day(line.permission_until),
                "note": card.note,
            }
        )  # fmt: skip

    def _say_place(self, values: Mapping[str, str]) -> None:
        said = bool(self.fields["grid"].message())
        self.meant.setText("" if said else place_words(values["grid"]))


def place_words(grid: str) -> str:
    """What a grid reference means, while it is typed."""
    if not grid.strip():
        return _NO_PLACE
    try:
        reference = read_grid(grid)
    except ValueError as error:
        return str(error)
    spot = to_lat_lon(reference)
    square = "1 m" if reference.square_m == 1 else f"{reference.square_m:,} m"
    degrees = f"{spot.latitude:.5f}, {spot.longitude:.5f}".replace("-", "−")
    return f"{reference.as_given()}: a square of {square}, corner at {degrees}"


def read_site(typed: Typed) -> NewSite:
    """What the form holds, ready for the act."""
    grid = typed.text("grid")
    found = check_grid(grid) if grid else None
    if found is not None:
        typed.findings.append(replace(found, where=Where(field="grid")))
    latitude, longitude = _coordinate(typed, "latitude", 90), _coordinate(typed, "longitude", 180)
    if not grid and (latitude is None) != (longitude is None):
        typed.refuse("longitude" if longitude is None else "latitude", "latitude and longitude go together")
    return NewSite(
        name=typed.wanted("name", "a site needs a name"), code=typed.text("code"), kind=typed.text("kind") or "out",
        grid=grid, latitude=latitude, longitude=longitude, landholder=typed.text("landholder"),
        permission_from=typed.day("permission_from"), permission_until=typed.day("permission_until"),
        rent_pence=typed.whole("rent", 100), rent_jars=typed.whole("rent_jars"), capacity=typed.whole("capacity"),
        way_in=typed.text("way_in"), forage=typed.text("forage"), other_bees=typed.text("other_bees"),
        apiary_number=typed.text("apiary_number"), note=typed.text("note"),
    )  # fmt: skip


def _coordinate(typed: Typed, field: str, most: int) -> float | None:
    text = typed.text(field).replace("−", "-").replace(",", ".")
    if not text:
        return None
    try:
        value = float(text)
    except ValueError:
        typed.refuse(field, f"{text} is not degrees", "Type 52.37051")
        return None
    if not -most <= value <= most:
        typed.refuse(field, f"degrees go from −{most} to {most}")
        return None
    return value


def _degrees(millionths: int | None) -> str:
    return "" if millionths is None else f"{millionths / 1e6:.6f}"


def _day(day: date | None) -> str:
    return long(day) if day else ""
