"""The rounds that are open on this desk: each a draft with its tab, its sheet read when it is first looked at."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from beeledger.base.dates import short
from beeledger.queries.round_start import DeskSheet
from beeledger.ui.desk.desk import Desk
from beeledger.ui.places.rounds.again import take_over_accepted
from beeledger.ui.places.rounds.posting import with_last_habits
from beeledger.ui.places.rounds.sheet import Sheet
from beeledger.ui.places.rounds.state import Head, head_from, lines_from
from beeledger.ui.widgets.tabs import Tab

KIND = "round"


@dataclass(slots=True)
class OpenRound:
    """One draft. ``sheet`` is there once its site was read."""

    head: Head
    body: dict[str, Any] | None = None
    """As it was kept; None for a new round."""
    sheet: Sheet | None = None

    def tab(self) -> Tab:
        """Its tab: the site and how far it is."""
        if self.sheet is not None:
            done, of = sum(not line.empty for line in self.sheet.lines), len(self.sheet.lines)
        else:
            lines = self.body["lines"] if self.body else []
            done, of = sum(_says(line) for line in lines), len(lines)
        if self.head.corrects is not None:
            return Tab(self.head.uid, self.head.site, f"correcting {short(self.head.on)}", "watch")
        waits = bool(self.body and self.body["place"].get("rest"))
        return Tab(self.head.uid, self.head.site, f"{of} to settle" if waits else f"{done} of {of}")

    def now(self) -> dict[str, Any]:
        """The draft as it stands."""
        return self.sheet.body() if self.sheet is not None else dict(self.body or {"lines": []})

    def colonies(self) -> list[int]:
        """The colonies that its lines name."""
        if self.sheet is not None:
            return [line.colony_id for line in self.sheet.lines if line.colony_id is not None]
        lines = self.body["lines"] if self.body else []
        return [line["colony"] for line in lines if line.get("colony") is not None]

    def take_sheet(self, read: DeskSheet) -> Sheet:
        """The sheet, made of what was read and what was kept."""
        if self.body is None:
            self.head = with_last_habits(self.head, read.sheet)
            self.sheet = Sheet(self.head, read)
        else:
            lines = lines_from(self.body, self.head.habits(read.settings.normals))
            place = self.body["place"]
            self.sheet = Sheet(self.head, read, lines, newcomers=not place.get("rest"))
            self.sheet.place = dict(place)
            take_over_accepted(self.sheet)
            self.head = self.sheet.head
        return self.sheet


def kept_rounds(desk: Desk) -> list[OpenRound]:
    """The drafts of rounds on this desk, oldest first; one that cannot be read is put aside and said."""
    found = []
    for draft in desk.drafts.drafts(KIND):
        try:
            found.append(opened(draft.body))
        except (KeyError, ValueError, TypeError):
            desk.drafts.set_aside(draft.uid)
            desk.say(f"The draft {draft.title} could not be read and was put aside", "now")
    return found


def opened(body: Mapping[str, Any]) -> OpenRound:
    """A round from the body of its draft."""
    return OpenRound(head_from(body), dict(body))


def keep(desk: Desk, sheet: Sheet, body: dict[str, Any]) -> None:
    """Keep a draft as it stands after a key."""
    desk.drafts.save(sheet.head.uid, KIND, sheet.head.site, body)
    desk.settle_soon()


def _says(line: Mapping[str, Any]) -> bool:
    return bool(line.get("typed") or (line.get("text") or "").strip())
