"""Which form belongs to which act of Queens, and what the act is given."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from typing import Any

from beeledger.operations.act import Operation
from beeledger.operations.grafts import count_cells, post_graft
from beeledger.operations.queen_book import (
    add_queen,
    describe_queen,
    introduce_queen,
    note_mating,
    retire_queen,
)
from beeledger.queries.records.queens import QueenChoices
from beeledger.ui.parts.typed_form import TypedForm
from beeledger.ui.places.queens import forms

_FORMS: Mapping[str, Callable[..., TypedForm]] = {
    "queen": forms.queen_form,
    "mating": forms.mating_form,
    "introduction": forms.introduction_form,
    "end": forms.end_form,
    "graft": forms.graft_form,
    "counts": forms.counts_form,
}


def form_of(kind: str, choices: QueenChoices, today: date, about: Any) -> TypedForm:
    """The form of a kind, filled from what it is about."""
    return _FORMS[kind](choices, today, about)


def act_of(kind: str, thing: Any, about: Any) -> tuple[Operation[...], tuple[Any, ...]]:
    """The operation a form posts, and its arguments: what was typed, about which queen or graft."""
    if kind == "queen":
        return (add_queen, (thing,)) if about is None else (describe_queen, (about.queen_id, thing))
    if kind == "mating":
        return note_mating, (about.line.queen_id, thing)
    if kind == "introduction":
        return introduce_queen, (about.queen_id, thing.colony_id, thing.on, thing.why)
    if kind == "end":
        return retire_queen, (about.queen_id, thing.on, thing.why)
    if kind == "graft":
        return post_graft, (thing,)
    return count_cells, (about.graft_id, thing)
