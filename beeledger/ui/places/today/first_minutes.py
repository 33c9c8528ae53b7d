"""The first minutes of a new ledger: whether the welcome is wanted, where its steps lead, and the way back to it."""

from __future__ import annotations

from collections.abc import Callable

from beeledger.operations.act import Done
from beeledger.queries.first_steps import FirstSteps
from beeledger.ui.desk.desk import Desk

_STEPS = frozenset({"add_site", "found_colonies", "post_round"})
"""Acts after which the window comes back to the welcome, if the welcome led to them."""


class FirstMinutes:
    """Carries a new farm from an empty ledger to its first posted round."""

    def __init__(self, desk: Desk, print_sheets: Callable[[list[int]], None]) -> None:
        self._desk = desk
        self._print = print_sheets
        self._steps = FirstSteps("", 0, 0, None, "", posted=True)
        self._left = False
        self._carrying = False
        self._away = False

    @property
    def wanted(self) -> bool:
        """Whether the welcome stands in front: no living colony, or no round yet; after it until it is left."""
        steps = self._steps
        return not steps.colonies or (not self._left and (not steps.posted or self._carrying))

    def take(self, steps: FirstSteps) -> None:
        """What the ledger says of the steps."""
        self._steps = steps

    def leave(self) -> None:
        """Enough of the welcome: Today as it always is."""
        self._left = True

    def add_site(self) -> None:
        """To the form of a site."""
        self._lead("sites", "new")

    def add_hives(self) -> None:
        """To the form of new colonies, at the site there is."""
        self._lead("colonies", ("found", self._steps.site_id or 0))

    def print_sheet(self) -> None:
        """The sheet of the first visit on paper."""
        self._carrying = True
        if self._steps.site_id is not None:
            self._print([self._steps.site_id])

    def type_round(self) -> None:
        """To the first round, at the site where most hives stand."""
        self._lead("rounds", self._steps.site_id)

    def heard(self, done: Done) -> None:
        """An act to which the welcome led was done: back to it, where the step is ticked and the next one named."""
        if self._away and done.kind in _STEPS:
            self._away = False
            self._desk.open_place("today")

    def _lead(self, place: str, what: object) -> None:
        self._carrying = self._away = True
        self._desk.open_place(place, what)
