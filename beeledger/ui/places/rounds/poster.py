"""Posting the round in front: what holds it is shown, what goes goes in one act, what is left stays a draft."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QObject, Signal

from beeledger.base.errors import Refused
from beeledger.base.text import counted
from beeledger.operations.act import Done
from beeledger.operations.rounds import post_round
from beeledger.ui.desk.desk import Desk
from beeledger.ui.places.rounds import doing
from beeledger.ui.places.rounds.pane import RoundPane
from beeledger.ui.places.rounds.posting import rest_of, round_to_post, rows_to_post
from beeledger.ui.places.rounds.sheet import Sheet

_BACK = "Took back: "
"""How History says that an act was taken back."""


@dataclass(frozen=True, slots=True)
class _Gone:
    """A draft that was posted, as it stood."""

    sentence: str
    body: dict[str, Any]


class Poster(QObject):
    """Posts the sheet of a pane. Remembers what it posted, so that taking the act back brings the draft again."""

    posted = Signal(str, object)
    """The uid that was posted, and the body of the draft that is left of it or None."""

    def __init__(self, desk: Desk, pane: RoundPane) -> None:
        super().__init__(pane)
        self._desk = desk
        self._pane = pane
        self._gone: list[_Gone] = []

    def post(self) -> None:
        """Post the round; a line that holds is gone to instead."""
        sheet = self._pane.sheet
        if sheet is None or self._pane.posting:
            return
        held = doing.held_rows(sheet)
        if not held:
            self.post_rest()
            return
        self._pane.command("next_held")
        self._desk.say(
            f"{counted(len(held), 'line')} hold{'s' if len(held) == 1 else ''} the posting", "watch",
            "Mend or accept (F4), or Ctrl Shift Enter posts the others.",
        )  # fmt: skip

    def post_rest(self) -> None:
        """Post every line that nothing holds."""
        sheet = self._pane.sheet
        if sheet is None or self._pane.posting:
            return
        rows = rows_to_post(sheet)
        if not rows:
            self._desk.say("No line of this round can be posted yet", "watch")
            return
        self._pane.set_posting(posting=True)
        self._desk.act(
            post_round,
            round_to_post(sheet, rows),
            owner=self,
            then=lambda done: self._done(done, sheet, rows),
            refused=lambda error: self._refused(error, sheet, rows),
            failed=lambda: self._pane.set_posting(posting=False),
            draft_uid=sheet.head.uid,
        )

    def taken_back(self, done: Done) -> dict[str, Any] | None:
        """The draft that an act brings again because it took back the posting; None when it did not."""
        if done.kind != "undo" or "round" not in done.touched:
            return None
        gone = next((one for one in reversed(self._gone) if done.sentence == _BACK + one.sentence), None)
        if gone is None:
            return None
        self._gone.remove(gone)
        # The uid went into History with the act: the draft that comes again has one of its own.
        return gone.body | {"head": gone.body["head"] | {"uid": uuid.uuid4().hex}}

    def _done(self, done: Done, sheet: Sheet, rows: list[int]) -> None:
        self._pane.set_posting(posting=False)
        self._gone.append(_Gone(done.sentence, sheet.body()))
        self._desk.drafts.forget(sheet.head.uid)
        self.posted.emit(sheet.head.uid, rest_of(sheet, rows))

    def _refused(self, error: Refused, sheet: Sheet, rows: list[int]) -> None:
        self._pane.set_posting(posting=False)
        sheet.refused(error.findings, rows)
        loose = [one for one in error.findings if not one.where.row]
        if loose:
            self._desk.say(loose[0].sentence(), "now", findings=error.findings)
        else:
            self._pane.command("next_held")
            self._desk.say(
                f"{counted(len(error.findings), 'finding')} of the record against posting", "watch"
            )
