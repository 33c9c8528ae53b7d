"""A sheet turned into what the act wants, and what is left of it afterwards."""

from __future__ import annotations

import uuid
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from beeledger.operations.rounds import Line as LineToPost
from beeledger.operations.rounds import RoundToPost, Swap
from beeledger.queries.records.round_desk import HiveLine, RoundSheet
from beeledger.rules.rounds.entry import Entry, FeedKind, blank, settled
from beeledger.rules.rounds.writing import write
from beeledger.ui.places.rounds.sheet import Sheet
from beeledger.ui.places.rounds.state import Head, body_of, changed


def rows_to_post(sheet: Sheet) -> list[int]:
    """The rows that go: they say something, nothing holds them and they are not kept for the crew."""
    return [
        row
        for row, view in enumerate(sheet.views)
        if not blank(view.entry) and not view.held and not view.waits
    ]


def round_to_post(sheet: Sheet, rows: Sequence[int]) -> RoundToPost:
    """The round as the act takes it."""
    head = sheet.head
    swapped = {mark for one in head.swaps for mark in (one.mark, one.other)}
    lines = []
    for row in rows:
        line, entry = sheet.lines[row], settled(sheet.views[row].entry)
        # A swapped number means another colony once the act has written the swap: it is told by its number.
        colony = None if line.mark in swapped else line.colony_id
        lines.append(LineToPost(entry, colony, line.mark or None, line.accepted, line.reason.strip() or None))
    swaps = tuple(Swap(one.mark, one.other, one.since) for one in head.swaps)
    return RoundToPost(
        head.uid, head.site_id, head.on, tuple(lines), head.start_minute, head.end_minute, head.crew or None,
        head.weather or None, head.note or None, head.source, swaps, questions_too=head.corrects is not None,
    )  # fmt: skip


def rest_of(sheet: Sheet, posted: Sequence[int]) -> dict[str, Any] | None:
    """The draft of what was not posted, under a uid of its own; None when nothing typed is left.

    Of lines nobody typed on only those stay that a later round may still want: none.
    """
    gone = set(posted)
    left = [
        changed(line, colony_id=hive.colony_id if (hive := sheet.hive(row)) else line.colony_id)
        for row, line in enumerate(sheet.lines)
        if row not in gone and not line.empty
    ]
    if not left:
        return None
    each = sheet.head.each  # done at these hives too; the note and the swaps went with the others
    head = replace(
        sheet.head, uid=uuid.uuid4().hex, each_text=write(each, sheet.habits), each=each, note="", swaps=()
    )  # fmt: skip
    return body_of(head, left, {"row": 0, "mode": "line", "rest": True})


def with_last_habits(head: Head, sheet: RoundSheet) -> Head:
    """A new head that counts as the last visits of the site did, where they say how."""
    visits = [hive.looked for hive in sheet.lines if hive.looked is not None]
    head = with_habits_of(head, [visit.entry for visit in visits])
    kind = _last_syrup(sheet.lines)
    return replace(head, feed_kind=kind) if kind else head


def with_habits_of(head: Head, entries: Sequence[Entry]) -> Head:
    """A head that counts as these entries did, where they say how."""
    in_frames = sum(entry.stores_tenths is not None for entry in entries)
    in_kg = sum(entry.stores_g is not None for entry in entries)
    if in_frames or in_kg:
        head = replace(head, stores_in_frames=in_frames > in_kg)
    methods = Counter(entry.mites_method for entry in entries if entry.mites_method)
    if methods:
        head = replace(head, mites_method=methods.most_common(1)[0][0])
    return head


def _last_syrup(lines: Sequence[HiveLine]) -> FeedKind | None:
    fed = [hive.feed for hive in lines if hive.feed is not None]
    if not fed:
        return None
    newest = max(fed, key=lambda feed: feed.on)
    syrups = (FeedKind.SYRUP_1_1, FeedKind.SYRUP_2_1, FeedKind.SYRUP_READY)
    return FeedKind(newest.kind) if newest.kind in syrups else None
