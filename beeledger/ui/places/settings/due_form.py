"""What is due, as a form: each reason with what trips it, its figures beside those shipped, and their sources."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from itertools import groupby
from typing import Any

from beeledger.base.dates import read_date, short
from beeledger.base.findings import Finding, Grade, Where
from beeledger.queries.farm import FarmSettings
from beeledger.rules.due import (
    DAY,
    NO_SOURCE,
    Adjustable,
    ReasonFigures,
    adjustables,
    default_settings,
    reason_figures,
    with_own,
)
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.field import Field
from beeledger.ui.widgets.form import Form
from beeledger.ui.widgets.words import Words

_LEAP = 2024
_LETTERS = 56
"""So many letters of labels stand beside one another, also at the largest text."""
_YES_NO = (("yes", "shown"), ("no", "not shown"))
_NOTE = (
    "Each line of the rule, the most urgent first. A change works out everything that is due anew, as one act that can "
    "be taken back. Beside each figure stands the one shipped; under it where that comes from."
)


class DueForm(Form):
    """The farm's own figures of what is due; saved as one act."""

    def __init__(self) -> None:
        super().__init__("What is due", "Save what is due", _NOTE)
        self.setObjectName("settings.due")
        figures = {code: tuple(each) for code, each in groupby(adjustables(), key=lambda one: one.reason)}
        for code, reason in reason_figures().items():
            self._add_reason(code, reason, figures.get(code, ()))
        for name, field in self.fields.items():
            field.setObjectName(f"settings.due.{name}")
        self.caution(
            "All of it is advice. The label of a medicine, local law and the bee inspector stand above it."
        )

    def fill(self, farm: FarmSettings) -> None:
        """Show what is settled now."""
        self.set_values(self.values_of(farm))

    def values_of(self, farm: FarmSettings) -> dict[str, str]:
        """What stands in the fields when nobody has changed anything."""
        own = dict(farm.due)
        values = {one.name: _shown(one, own.get(one.name, one.shipped)) for one in adjustables()}
        return values | {f"on_{code}": "no" if code in farm.due_off else "yes" for code in _optional()}

    def _add_reason(self, code: str, reason: ReasonFigures, figures: tuple[Adjustable, ...]) -> None:
        self.add_piece(Words(reason.title, weight=600))
        always = "Always shown. " if reason.always else ""
        own = {one.source for one in figures} - {reason.source, NO_SOURCE}
        sources = "; ".join([reason.source, *sorted(own)])
        self.add_piece(
            Words(f"{reason.when}. {always}Source: {sources}.", role="small", ink="ink2", wrap=True)
        )
        fields = (
            {} if reason.always else {f"on_{code}": Field(reason.title, editor=Choice(_YES_NO), width=110)}
        )
        for one in figures:
            label = f"{one.words} (shipped {_shown(one, one.shipped)})"
            fields[one.name] = Field(label, width=90)
        row: dict[str, Field] = {}
        for name, field in fields.items():
            labels = [each.editor.accessibleName() for each in (*row.values(), field)]
            if row and sum(map(len, labels)) > _LETTERS:
                self.add_side_by_side(row)
                row = {}
            row[name] = field
        if row:
            self.add_side_by_side(row)


def due_changes(farm: FarmSettings, values: Mapping[str, str]) -> tuple[dict[str, Any], list[Finding]]:
    """What differs from the farm as it is, and what could not be read, each with its field."""
    wrong: list[Finding] = []
    own: dict[str, int | str] = {}
    for one in adjustables():
        try:
            value = _read(one, values[one.name])
            with_own(default_settings(), {one.name: value})
        except ValueError as error:
            what = str(error)
            wrong.append(Finding("settings.unread", Grade.REFUSED, what, where=Where(field=one.name)))
            continue
        if value != one.shipped:
            own[one.name] = value
    off = tuple(code for code in _optional() if values[f"on_{code}"] == "no")
    wanted = {"due": tuple(own.items()), "due_off": off}
    now = {"due": dict(farm.due), "due_off": set(farm.due_off)}
    differs = {"due": own != now["due"], "due_off": set(off) != now["due_off"]}
    return {key: value for key, value in wanted.items() if differs[key]}, wrong


def _optional() -> list[str]:
    return [code for code, reason in reason_figures().items() if not reason.always]


def _shown(one: Adjustable, value: int | str) -> str:
    if one.unit != DAY:
        return str(value)
    month, day = str(value).split("-")
    return short(date(_LEAP, int(month), int(day)))


def _read(one: Adjustable, text: str) -> int | str:
    if one.unit == DAY:
        return f"{read_date(text, date(_LEAP, 12, 31)):%m-%d}"
    if not text.isdecimal():
        raise ValueError(f"{one.words}: type a whole figure from {one.least} to {one.most}")
    return int(text)
