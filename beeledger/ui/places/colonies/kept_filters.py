"""Filters kept by name at this desk: the words and chips of the table, put back with one choice."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date

from beeledger.ui.parts.typed_form import Typed, TypedForm
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.field import Field

KEEP, FORGET = "+", "-"
_PART = "\t"


class KeptFilters(Choice):
    """The kept filters to choose from, and the ways to keep this one or to forget the one in force."""

    def __init__(self, chosen: Callable[[str], None]) -> None:
        super().__init__()
        self.setObjectName("colonies.kept")
        self.setAccessibleName("Kept filters")
        self.setToolTip("Filters kept by name")
        self.setSizeAdjustPolicy(Choice.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(5)
        self.activated.connect(lambda at: chosen(str(self.itemData(at))))

    def show_names(self, names: Mapping[str, str], now: str = "") -> None:
        """Offer the kept filters; ``now`` is the one in force."""
        self.clear()
        ways = [(KEEP, "Keep this filter"), *([(FORGET, f"Forget {now}")] if now else [])]
        self.set_options([("", "Kept"), *((name, name) for name in sorted(names)), *ways])
        self.setCurrentIndex(max(0, self.findData(now)))


def as_kept(words: str, chips: list[str]) -> str:
    """A filter as the settings of the desk keep it."""
    return _PART.join((words, *chips))


def from_kept(text: str) -> tuple[str, list[str]]:
    """The words of a kept filter, and its chips."""
    words, *chips = text.split(_PART)
    return words, chips


def keep_form(today: date) -> TypedForm:
    """Ask under which name the filter is kept."""
    note = "Kept at this desk. A name that is there already is written over."
    form = TypedForm("Keep this filter", "Keep it", _name, today, note)
    form.add("name", Field("Name"))
    return form


def _name(typed: Typed) -> str:
    name = typed.wanted("name", "give it a name")
    if name in (KEEP, FORGET):
        typed.refuse("name", "this is no name")
    return name
