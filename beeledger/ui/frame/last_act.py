"""The last act of this desk in the top line: its words and time, and the word that takes it back."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from beeledger.base.dates import short
from beeledger.operations.act import Done
from beeledger.queries.acts import ActLine
from beeledger.ui.desk.desk import Desk
from beeledger.ui.frame.top_line import TopLine
from beeledger.ui.parts.act_words import act_words

UNDO, AGAIN = "Undo", "Bring again"


class LastAct:
    """What can be taken back with one key. An undoing offers to bring the act again."""

    def __init__(self, desk: Desk, top: TopLine) -> None:
        self._desk = desk
        self._top = top
        self._act: int | None = None

    @property
    def act(self) -> int | None:
        """The act that would be taken back; None when there is none."""
        return self._act

    def heard(self, done: Done) -> None:
        """An act of this desk was done: tell it afresh. What other desks do is not this desk's to undo."""
        if done.kind == "news":
            return
        self._act = done.act
        self._tell(done.sentence, self._desk.clock.now(), undoing=done.kind == "undo", fresh=True)

    def remember(self, line: ActLine) -> None:
        """What this desk did before the window was opened, said quietly; nothing if it acted since."""
        if self._act is not None:
            return
        self._act = None if line.taken_back_by else line.id
        self._tell(line.sentence, line.at, undoing=line.undoes is not None, fresh=False)

    def take_back(self) -> None:
        """Take back the act that is shown; a refusal names what stands on it, in the same place."""
        if self._act is None:
            self._desk.say("There is nothing to take back")
        else:
            self._desk.undo(self._act)

    def _tell(self, sentence: str, at: datetime, *, undoing: bool, fresh: bool) -> None:
        local = at.astimezone(ZoneInfo(self._desk.clock.zone))
        word = "" if self._act is None else AGAIN if undoing else UNDO
        said = act_words(sentence)
        if undoing and said.startswith("Brought again"):
            word = UNDO
        today = local.date() == self._desk.clock.today()
        when = f"{local:%H:%M}" if today else f"{short(local.date())}, {local:%H:%M}"
        self._top.show_done(f"{said}, {when}", word, fresh=fresh)
