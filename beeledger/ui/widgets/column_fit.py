"""How the columns of a table share its room: who steps out, who takes what is left over."""

from __future__ import annotations

from collections.abc import Sequence

from beeledger.ui.widgets.cells import Column


def shared(columns: Sequence[Column], natural: Sequence[int], room: int, kept: int = -1) -> dict[int, int]:
    """The width of each column shown, in pixels, by its place; one that has stepped out is left out.

    Spare columns step out where not all have room (``kept``, the sorted one, never does); what is left
    over goes to the slack ones, else to the last. Where even that is too wide, the table scrolls.
    """
    shown = _staying(columns, natural, room, kept)
    widths = {at: natural[at] for at in shown}
    slack = [at for at in shown if columns[at].slack] or shown[-1:]
    left_over = max(0, room - sum(widths.values()))
    for at in slack:
        widths[at] += left_over // len(slack) + (left_over % len(slack) if at == slack[-1] else 0)
    return widths


def _staying(columns: Sequence[Column], natural: Sequence[int], room: int, kept: int) -> list[int]:
    shown = list(range(len(columns)))
    spare = [at for at in shown if columns[at].spare and at != kept]
    for at in sorted(spare, key=lambda at: -columns[at].spare):
        if sum(natural[each] for each in shown) <= room:
            break
        shown.remove(at)
    return shown
