"""Posting the round in front: what holds it is shown, what goes goes in one act, what is left stays a draft."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from PySide6.QtCore import QObject, Signal

from beeledger.base.errors import Refused
from beeledger.base.text import counted
from beeledger.operations.act import Done
from beeledger.operations.rounds import correct_round, post_round
from beeledger.ui.desk.desk import Desk
from beeledger.ui.places.rounds import doing
from beeledger.ui.places.rounds.again import answered_by_the_posting
from beeledger.ui.places.rounds.back import left_again, whole_again
from beeledger.ui.places.rounds.drafts import OpenRound
from beeledger.ui.places.rounds.pane import RoundPane
from beeledger.ui.places.rounds.posting import rest_of, round_to_post, rows_to_post
from beeledger.ui.places.rounds.sheet import Sheet

_BACK = "Took back: "
"""How History says that an act was taken back."""


@dataclass(frozen=True, slots=True)
class _Gone:
    """A draft that was posted, as it stood, and the rows of it that went."""

    sentence: str
    body: dict[str, Any]
    rows: tuple[int, ...]
    other: str
    """The uid of the draft that is there since: what was left, or once taken back the whole come again."""


class Poster(QObject):
    """Posts the sheet of a pane. Remembers what it posted, so that taking the act back brings the draft again."""

    posted = Signal(str, object)
    """The uid that was posted, and the body of the draft that is left of it or None."""

    def __init__(self, desk: Desk, pane: RoundPane) -> None:
        super().__init__(pane)
        self._desk = desk
        self._pane = pane
        self._gone: list[_Gone] = []
        self._again: list[_Gone] = []

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
        mend = "Mend or accept (F4), or Ctrl Shift Enter posts the others."
        if sheet.head.corrects is not None:
            mend = "Mend or accept (F4): a correction takes the place of the whole round."
        words = f"{counted(len(held), 'line')} hold{'s' if len(held) == 1 else ''} the posting"
        self._desk.say(words, "watch", mend)

    def post_rest(self) -> None:
        """Post every line that nothing holds."""
        sheet = self._pane.sheet
        if sheet is None or self._pane.posting:
            return
        if sheet.head.corrects is not None and doing.held_rows(sheet):
            self.post()  # what was left out would be gone from the record
            return
        rows = rows_to_post(sheet)
        if not rows:
            self._desk.say("No line of this round can be posted yet", "watch", self._pane.bar.post.reason)
            return
        self._pane.set_posting(posting=True)
        self._send(sheet, rows)

    def _send(self, sheet: Sheet, rows: list[int]) -> None:
        new = round_to_post(sheet, rows)
        corrects, seen = sheet.head.corrects, sheet.head.seen
        act: Callable[..., str] = post_round
        args: tuple[Any, ...] = (new,)
        if corrects is not None:
            act, args = correct_round, (corrects, new, seen)
        self._desk.act(
            act,
            *args,
            owner=self,
            then=lambda done: self._done(done, sheet, rows),
            refused=lambda error: self._refused(error, sheet, rows),
            failed=lambda: self._pane.set_posting(posting=False),
            draft_uid=sheet.head.uid,
        )

    def taken_back(self, done: Done, rounds: dict[str, OpenRound]) -> dict[str, Any] | None:
        """The draft that comes because an act took back a posting or brought it again; None when none does.

        The draft in whose place it comes is taken from ``rounds``.
        """
        if done.kind != "undo" or "round" not in done.touched:
            return None
        gone = _found(self._gone, done, back=True)
        if gone is not None:
            self._gone.remove(gone)
            body = whole_again(gone.body, gone.rows, self._dropped(gone.other, rounds))
            if body["head"].get("corrects") is not None:
                body["head"] |= {"seen": done.act}  # the round stands as it was, written by the taking back
            self._again.append(replace(gone, other=body["head"]["uid"]))
            return body
        again = _found(self._again, done, back=False)
        if again is None:
            return None
        self._again.remove(again)
        left = left_again(
            self._dropped(again.other, rounds), [again.body["lines"][row] for row in again.rows]
        )
        self._gone.append(replace(again, other=left["head"]["uid"] if left else ""))
        return left

    def _dropped(self, uid: str, rounds: dict[str, OpenRound]) -> dict[str, Any] | None:
        """A draft as it stands, which is no more; None when it was posted or put away already."""
        one = rounds.pop(uid, None)
        if one is None:
            return None
        self._desk.drafts.forget(uid)
        return one.now()

    def _done(self, done: Done, sheet: Sheet, rows: list[int]) -> None:
        self._pane.set_posting(posting=False)
        rest = rest_of(sheet, rows)
        self._gone.append(
            _Gone(done.sentence, sheet.body(), tuple(rows), rest["head"]["uid"] if rest else "")
        )
        self._desk.drafts.forget(sheet.head.uid)
        self.posted.emit(sheet.head.uid, rest)

    def _refused(self, error: Refused, sheet: Sheet, rows: list[int]) -> None:
        answered = {} if sheet.head.corrects is None else answered_by_the_posting(sheet, error.findings, rows)
        if answered:
            sheet.put(answered, min(answered), "")
            self._send(sheet, rows)
            return
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


def _found(among: Sequence[_Gone], done: Done, *, back: bool) -> _Gone | None:
    """The posting that an act took back, or brought again: what was taken back twice stands."""
    said, times = done.sentence, 0
    while said.startswith(_BACK):
        said, times = said.removeprefix(_BACK), times + 1
    if bool(times % 2) is not back:
        return None
    return next((one for one in reversed(among) if one.sentence == said), None)
