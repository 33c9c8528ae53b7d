"""The acts of the authority at the chosen site: restrict, release, a visit, a sample and its result."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from beeledger.operations.official import record_result, record_sample, record_visit
from beeledger.operations.restrictions import change_restriction, impose_restriction, release_restriction
from beeledger.queries.records.restrictions import RestrictionChoices, RestrictionLine, SiteOfficial
from beeledger.queries.records.sites import SiteCard
from beeledger.queries.restrictions import official_of_site, restriction_choices
from beeledger.ui.parts.table_place import TablePlace
from beeledger.ui.places.sites.official_forms import (
    RestrictionForm,
    release_form,
    result_form,
    sample_form,
    visit_form,
)


class Authority:
    """What the place does for the site that is shown. ``card`` gives that site, ``show`` its record."""

    def __init__(
        self, place: TablePlace, card: Callable[[], SiteCard | None], show: Callable[[SiteOfficial], None]
    ) -> None:
        self._place, self._card, self._show = place, card, show
        self.shown: SiteOfficial | None = None

    def acts(self) -> dict[str, Callable[[], None]]:
        """The acts by the words of their buttons."""
        return {
            "Restrict": self.restrict, "Release": self.release, "Official visit": self.visit, "Sample": self.sample,
        }  # fmt: skip

    def read(self, site_id: int) -> None:
        """Read what is written of a site."""
        desk = self._place.desk
        desk.read(
            official_of_site, site_id, desk.clock.now(), owner=self._place, then=self._read, key="official"
        )

    def restrict(self) -> None:
        """The form of a new restriction, beginning with the notification."""
        self._with_choices(lambda card, choices: self._open_restriction(card, choices, None))

    def release(self) -> None:
        """The form of the written release of what is in force here."""
        if self.shown is not None and self.shown.in_force:
            form = release_form(self.shown.in_force[0], self._place.desk.clock.today())
            self._place.ask(form, "release", release_restriction)

    def visit(self) -> None:
        """The form of an inspector's visit."""
        if (card := self._card()) is not None:
            self._place.ask(visit_form(card.line, self._place.desk.clock.today()), "visit", record_visit)

    def sample(self) -> None:
        """The form of a sample."""
        card = self._card()
        if card is not None and self.shown is not None:
            form = sample_form(card, self.shown, self._place.desk.clock.today())
            self._place.ask(form, "sample", record_sample)

    def open(self, key: object) -> None:
        """A line of the card was opened: a restriction to change, a sample to write the result of."""
        if self.shown is None or not isinstance(key, tuple):
            return
        kind, number = key
        lines = (*self.shown.in_force, *self.shown.past)
        line = next((one for one in lines if kind == "restriction" and one.id == number), None)
        if line is not None:
            self._with_choices(lambda card, choices: self._open_restriction(card, choices, line))
        sample = next((one for one in self.shown.samples if kind == "sample" and one.id == number), None)
        if sample is not None:
            self._place.ask(result_form(sample, self._place.desk.clock.today()), "result", record_result)

    def _read(self, official: SiteOfficial) -> None:
        self.shown = official
        self._show(official)

    def _with_choices(self, then: Callable[[SiteCard, RestrictionChoices], None]) -> None:
        card = self._card()
        if card is not None:
            self._place.desk.read(
                restriction_choices, owner=self._place, key="choices", then=lambda choices: then(card, choices)
            )  # fmt: skip

    def _open_restriction(
        self, card: SiteCard, choices: RestrictionChoices, line: RestrictionLine | None
    ) -> None:
        clock = self._place.desk.clock
        form = RestrictionForm(card.line, choices, clock.today(), clock.zone, line)

        def ready(new: Any) -> None:
            said = form.accepting(new)
            if line is None:
                self._place.post(form, impose_restriction, said)
            else:
                self._place.post(form, change_restriction, line.id, said)

        self._place.open_form(form, "restriction", ready)
