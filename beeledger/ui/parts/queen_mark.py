"""A queen in few words: her disc, her colour as a word, her tag; or that there is none."""

from __future__ import annotations

from datetime import date

from beeledger.base.dates import short
from beeledger.rules.queens import marking_colour
from beeledger.ui.widgets.cells import BLANK, Cell, Run
from beeledger.ui.widgets.look import Token

SAMPLE = "yellow 22-198"
"""The widest usual words, for the width of a column."""
_STATES: dict[str, tuple[str, Token]] = {
    "queenless": ("none", "now"),
    "drone_layer": ("drone layer", "now"),
    "virgin": ("virgin", "watch"),
    "cells": ("cells", "watch"),
}


def queen_disc(year: int | None, marked: bool | None) -> str:  # noqa: FBT001  # a fact of the record, not a switch
    """The colour of her mark; blank when she has none or her year is not known."""
    return "" if year is None or marked is False else str(marking_colour(year))


def queen_words(year: int | None, marked: bool | None, tag: str | None) -> str:  # noqa: FBT001  # the same
    """As "green 24-118"; "green 2024" without a tag; "unmarked 2024"; blank when nothing is known."""
    colour = queen_disc(year, marked) or ("unmarked" if marked is False else "")
    return " ".join(part for part in (colour, tag or (str(year) if year else "")) if part)


def queen_cell(
    year: int | None,
    marked: bool | None,  # noqa: FBT001  # the same
    tag: str | None,
    state: str | None = None,
    state_on: date | None = None,
) -> Cell:
    """The cell of a table: what she is called, or how the colony stands without her."""
    if state in _STATES:
        word, ink = _STATES[state]
        return Cell(f"{word}, {short(state_on)}" if state_on else word, ink)
    words = queen_words(year, marked, tag)
    return Cell(words, disc=queen_disc(year, marked)) if words else BLANK


def queen_runs(
    year: int | None,
    marked: bool | None,  # noqa: FBT001  # the same
    clipped: bool | None,  # noqa: FBT001  # the same
    tag: str | None,
    state: str | None = None,
    state_on: date | None = None,
) -> list[Run]:
    """The identity beside a card's title."""
    if state in _STATES:
        word, ink = _STATES[state]
        said = "no queen" if state == "queenless" else word
        return [Run(f"{said}, {short(state_on)}" if state_on else said, ink, 600)]
    words = queen_words(year, marked, tag)
    if not words:
        return [Run("queen not known")]
    more = "clipped" if clipped else ""
    return [Run(words, "ink", 600, disc=queen_disc(year, marked), gap=8), *([Run(more)] if more else [])]
