"""The ready cells of a line of the entry grid: last figure, today's figure, and how it stands with the checks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from beeledger.base.findings import Finding, Grade
from beeledger.queries.records.round_desk import HiveLine
from beeledger.rules.rounds.checks import needs_reason
from beeledger.rules.rounds.entry import Outcome, QueenState, outcome_of
from beeledger.rules.rounds.normal import Habits
from beeledger.rules.rounds.sums import fed_only
from beeledger.ui.places.rounds.checking import UNREAD, LineView
from beeledger.ui.places.rounds.columns import GridColumn, last_of, show_rest
from beeledger.ui.places.rounds.state import Line
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.marks import Mark

MARK_OF = {
    Grade.REFUSED: Mark.CANNOT,
    Grade.AGAINST: Mark.AGAINST,
    Grade.DOUBTFUL: Mark.ODD,
    Grade.NOTED: Mark.ADVICE,
}
_INK: dict[Grade, Token] = {
    Grade.REFUSED: "now",
    Grade.AGAINST: "watch",
    Grade.DOUBTFUL: "watch",
    Grade.NOTED: "ink2",
}


@dataclass(frozen=True, slots=True)
class GridCell:
    """One cell, ready to paint: two places, the ground and the bar of the state, words for a screen reader."""

    today: str = ""
    last: str = ""
    ink: Token = "ink"
    weight: int = 600
    tint: Token | None = None
    bar: Token | None = None
    disc: str = ""
    runs: tuple[Run, ...] = ()
    spoken: str = ""


@dataclass(frozen=True, slots=True)
class WhoCells:
    """The three cells at the left that are not typed into."""

    stand: GridCell
    hive: GridCell
    queen: GridCell


def who_cells(row: int, line: Line, hive: HiveLine | None) -> WhoCells:
    """Where in the walk, which hive, which queen."""
    queen, disc, ink = _queen(hive)
    stand = GridCell(str(row + 1), ink="ink2", weight=400)
    mark = line.mark or "no number"
    return WhoCells(
        stand,
        GridCell(line.mark or "stranger", weight=600, spoken=f"hive {mark}"),
        GridCell(queen, ink=ink, weight=400, disc=disc, spoken=f"queen {queen}" if queen else ""),
    )


_WITHOUT_HER: dict[QueenState, tuple[str, Token]] = {
    QueenState.QUEENLESS: ("none", "now"),
    QueenState.DRONE_LAYER: ("drone layer", "now"),
    QueenState.VIRGIN: ("virgin", "watch"),
    QueenState.CELLS: ("cells", "watch"),
}


def _queen(hive: HiveLine | None) -> tuple[str, str, Token]:
    if hive is None:
        return "", "", "ink"
    known = hive.queen
    without = _WITHOUT_HER.get(known.state) if known.state else None
    if without is not None:
        return without[0], "", without[1]
    year = "" if known.year is None else f"’{known.year % 100:02d}"
    if known.colour and known.marked is not False:
        return f"{known.colour} {year}".strip(), known.colour, "ink"
    return (f"plain {year}" if year else ""), "", "ink"


def cells_of(
    line: Line,
    view: LineView,
    hive: HiveLine | None,
    columns: Sequence[GridColumn],
    habits: Habits,
    *,
    here: bool,
) -> tuple[GridCell, ...]:
    """The cells of a line in the order of the columns; ``here`` says that the line has the focus."""
    made = []
    for column in columns:
        if column.key == "rest":
            made.append(margin_cell(line, view, habits, here=here))
            continue
        found = worst_at(view, column)
        tint, bar, ink = _state(found)
        today = column.show(view.entry, habits)
        last = last_of(hive, column, habits)
        made.append(GridCell(today, last, ink, 600, tint, bar, spoken=_spoken(column, today, last, found)))
    return tuple(made)


def worst_at(view: LineView, column: GridColumn) -> Finding | None:
    """The gravest thing that stands open at a cell."""
    shown = [*view.open, *view.odd]
    return next((one for one in shown if one.where.field in column.fields), None)


def _state(found: Finding | None) -> tuple[Token | None, Token | None, Token]:
    if found is None:
        return None, None, "ink"
    if found.grade is Grade.REFUSED:
        return "nowsoft", "now", "now"
    return "watchsoft", "watch", "ink"


def margin_cell(line: Line, view: LineView, habits: Habits, *, here: bool) -> GridCell:
    """What the program has to say, gravest first; else what the sheet says in words."""
    rest = show_rest(view.entry, habits)
    opened = [*view.open, *view.odd]
    noted = [one for one in view.findings if one.grade is Grade.NOTED]
    first = opened[0] if opened else (noted[0] if noted and not rest else None)
    runs: list[Run] = []
    if first is not None:
        runs.append(
            Run(margin_words(first), _ink(first, here=here), mark=_mark(first, here=here), small=True, gap=8)
        )
        if len(opened) > 1:
            runs.append(Run(f"+{len(opened) - 1}", "ink2", small=True, gap=8))
        if here and first.grade is Grade.AGAINST:
            runs.append(
                Run(
                    "F4 writes the reason" if needs_reason(first) else "F4 accepts",
                    "accent",
                    small=True,
                    gap=8,
                )
            )
        elif here and first.grade is Grade.DOUBTFUL:
            runs.append(Run("F4: looked at", "accent", small=True, gap=8))
    rest = rest or _unopened_words(view) or (_taken_words(line, view) if first is None else "")
    if rest:
        words = rest
        runs.append(Run(words, "ink2" if first is None else "ink3", small=True))
    return GridCell(weight=400, runs=tuple(runs), spoken=_margin_spoken(first, rest))


def _unopened_words(view: LineView) -> str:
    """What follows from feed or a heft alone, which no mark on the line says."""
    if view.entry.outcome is not None or outcome_of(view.entry) is not Outcome.NOT_OPENED:
        return ""
    return "fed, not opened" if fed_only(view.entry) else "hefted, not opened"


def _taken_words(line: Line, view: LineView) -> str:
    """What the sheet was believed in, so that it can be seen after the key was pressed."""
    taken = [one.what for one in view.findings if one.grade is Grade.AGAINST and not needs_reason(one)]
    parts = ["accepted: " + "; ".join(taken)] if taken else []
    return ". ".join([*parts, *([f"reason: {line.reason}"] if line.reason else [])])


def margin_words(finding: Finding) -> str:
    """A finding in the few words of the margin."""
    if finding.code == UNREAD:
        return f"not read: {finding.what}"
    return finding.what


def _ink(finding: Finding, *, here: bool) -> Token:
    # While a mark is being typed it is only odd; once the line is left it holds.
    return "watch" if here and finding.code == UNREAD else _INK[finding.grade]


def _mark(finding: Finding, *, here: bool) -> Mark:
    return Mark.ODD if here and finding.code == UNREAD else MARK_OF[finding.grade]


def _spoken(column: GridColumn, today: str, last: str, found: Finding | None) -> str:
    parts = [column.title.lower(), today or "not looked at", f"last {last}" if last else ""]
    parts += [f"{MARK_OF[found.grade].words}: {found.what}"] if found else []
    return ", ".join(part for part in parts if part)


def _margin_spoken(found: Finding | None, rest: str) -> str:
    said = f"{MARK_OF[found.grade].words}: {found.sentence()}" if found else ""
    return " ".join(part for part in (said, rest) if part)
