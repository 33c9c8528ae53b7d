"""Hives and visits: the usual boxes, what a full super is taken for, and what n fills in on a visit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from typing import Any

from beeledger.base.dates import read_date, short
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.units import to_scale
from beeledger.queries.farm import FarmSettings
from beeledger.rules.rounds.entry import Entry
from beeledger.rules.rounds.normal import Habits, Normal, habits_for
from beeledger.rules.rounds.reading import parse
from beeledger.rules.rounds.writing import write
from beeledger.rules.stores import figures
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.field import Field
from beeledger.ui.widgets.form import Form

_FIGURES = (
    ("brood_boxes", 1), ("brood_frames", 1), ("super_frames", 1), ("nucleus_frames", 1), ("super_full_g", 1000),
    ("road_factor_hundredths", 100),
)  # fmt: skip
_LEAP = 2024
"""Any leap year: a season may begin on 29 February."""


class HivesForm(Form):
    """The farm's usual hive and its visits; saved as one act."""

    def __init__(self) -> None:
        super().__init__("Hives and visits", "Save hives and visits")
        self.setObjectName("settings.hives")
        frames = [(name, name.replace("_", " ")) for name in figures().frames_g]
        self.add_side_by_side(
            {
                "hive_type": Field("Usual hive", prompt="National"),
                "brood_frame": Field("Its brood frame", editor=Choice(frames)),
            }
        )
        self.add_side_by_side(
            {
                "brood_boxes": Field("Brood boxes"),
                "brood_frames": Field("Frames in a brood box"),
            }
        )
        self.add_side_by_side(
            {
                "super_frames": Field("Frames in a super"),
                "nucleus_frames": Field("Frames in a nucleus"),
            }
        )
        self.add_side_by_side(
            {
                "super_full_g": Field("Honey in a full super", unit="kg"),
                "road_factor_hundredths": Field("Road over straight line", unit="times"),
            }
        )
        walks = (("no", "as last time"), ("yes", "from the far end"))
        self.add("walking_reversed", Field("A new round begins", editor=Choice(walks)))
        self.seasons: tuple[Normal, ...] = ()
        self.habits: Habits = habits_for(date(_LEAP, 1, 1))
        self._name_fields()

    def fill(self, farm: FarmSettings) -> None:
        """Show what is settled now; there is a line for each season."""
        if len(self.seasons) != len(farm.normals):
            self._add_seasons(farm)
        self.seasons = farm.normals
        self.set_values(self.values_of(farm))

    def values_of(self, farm: FarmSettings) -> dict[str, str]:
        """What stands in the fields when nobody has changed anything."""
        values = {key: f"{getattr(farm, key) / scale:g}" for key, scale in _FIGURES}
        values |= {"hive_type": farm.hive_type, "brood_frame": farm.brood_frame}
        values["walking_reversed"] = "yes" if farm.walking_reversed else "no"
        for number, normal in enumerate(farm.normals):
            values[f"season_{number}"] = normal.name
            values[f"from_{number}"] = short(date(_LEAP, normal.month, normal.day))
            values[f"marks_{number}"] = write(normal.entry, self.habits)
        return values

    def _add_seasons(self, farm: FarmSettings) -> None:
        for number in range(len(self.seasons), len(farm.normals)):
            self.add_side_by_side(
                {
                    f"season_{number}": Field("Season"),
                    f"from_{number}": Field("Begins", width=90),
                    f"marks_{number}": Field("What n fills in, as marks", width=190),
                }
            )
        self._name_fields()

    def _name_fields(self) -> None:
        for name, field in self.fields.items():
            field.setObjectName(f"settings.hives.{name}")


def hive_changes(farm: FarmSettings, values: Mapping[str, str]) -> tuple[dict[str, Any], list[Finding]]:
    """What differs from the farm as it is, and what could not be read, each with its field."""
    wrong: list[Finding] = []
    wanted: dict[str, Any] = {
        "hive_type": values["hive_type"],
        "brood_frame": values["brood_frame"],
        "walking_reversed": values["walking_reversed"] == "yes",
    }
    if not values["hive_type"]:
        wrong.append(_wrong("hive_type", "the usual hive has a name", "Type it"))
    for key, scale in _FIGURES:
        try:
            wanted[key] = to_scale(values[key], scale)
        except ValueError as error:
            wrong.append(_wrong(key, str(error), "Type a figure"))
    habits = habits_for(date(_LEAP, 1, 1))
    wanted["normals"] = tuple(
        _season(normal, number, values, habits, wrong) for number, normal in enumerate(farm.normals)
    )
    return {key: value for key, value in wanted.items() if value != getattr(farm, key)}, wrong


def _season(
    normal: Normal, number: int, values: Mapping[str, str], habits: Habits, wrong: list[Finding]
) -> Normal:
    name, begins, marks = (values[f"{part}_{number}"] for part in ("season", "from", "marks"))
    if not name:
        wrong.append(_wrong(f"season_{number}", "a season has a name", "Type it"))
    reading = parse(marks, replace(habits, normal=Entry()))
    for token in reading.problems:
        what = f"{marks[token.start : token.end]}: {token.problem}"
        wrong.append(_wrong(f"marks_{number}", what, "F1 in Rounds lists the marks"))
    try:
        day = read_date(begins, date(_LEAP, 12, 31))
    except ValueError as error:
        wrong.append(_wrong(f"from_{number}", str(error), "Type it as 1 Mar"))
        return normal
    return Normal(name, day.month, day.day, reading.entry)


def _wrong(field: str, what: str, mend: str) -> Finding:
    return Finding("settings.unread", Grade.REFUSED, what, mend, Where(field=field))
