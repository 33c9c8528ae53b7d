"""What is done to a sheet: typing, filling, accepting, lines added and moved. Each is one step of undo."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from beeledger.base.findings import Finding, Grade
from beeledger.rules.rounds.entry import EMPTY, Entry, Outcome, QueenState, outcome_of, over
from beeledger.rules.rounds.sums import OF_ONE_HIVE, next_blank, repeat_line
from beeledger.rules.rounds.sums import fill_down as filled_down
from beeledger.ui.places.rounds.checking import taken_codes
from beeledger.ui.places.rounds.columns import GridColumn, read_cell, without
from beeledger.ui.places.rounds.sheet import Sheet, with_entry
from beeledger.ui.places.rounds.state import Head, Line, changed, head_from, line_of, lines_from, read_line


def filled(sheet: Sheet) -> int:
    """How many lines say something of their own."""
    return sum(not line.empty for line in sheet.lines)


def row_of(sheet: Sheet, mark: str) -> int | None:
    """The row of a hive by its mark."""
    return next((row for row, line in enumerate(sheet.lines) if line.mark == mark), None)


def held_rows(sheet: Sheet) -> list[int]:
    """Rows that hold the posting."""
    return [row for row, view in enumerate(sheet.views) if view.held]


def odd_rows(sheet: Sheet) -> list[int]:
    """Rows with something to look at."""
    return [row for row, view in enumerate(sheet.views) if view.odd]


def waiting_rows(sheet: Sheet) -> list[int]:
    """Rows kept for the crew."""
    return [row for row, view in enumerate(sheet.views) if view.waits]


def next_empty(sheet: Sheet, after: int) -> int | None:
    """The next line that nothing was typed on."""
    return next_blank([_as_seen(line) for line in sheet.lines], after)


def set_text(sheet: Sheet, row: int, text: str) -> None:
    """The quick line of a row, as it stands after a key."""
    if text == sheet.text(row) and sheet.lines[row].text is not None:
        return
    sheet.put({row: read_line(sheet.lines[row], text, sheet.habits)}, row, f"line {row}")


def set_cell(sheet: Sheet, row: int, column: GridColumn, text: str, before: Line | None = None) -> str:
    """What is typed into a cell; returns what is wrong with it, and then nothing has changed.

    ``before`` is the line as it was when the typing in this cell began.
    """
    said, problem = read_cell(column, text, sheet.habits)
    if said is None:
        return problem
    base = (before or sheet.lines[row]).typed
    entry = over(without(base, column.fields), _still_right(base, said))
    if entry != sheet.lines[row].typed:
        sheet.put({row: with_entry(sheet.lines[row], entry)}, row, f"cell {row} {column.key}")
    return ""


def _still_right(before: Entry, said: Entry) -> Entry:
    """A queen that was right by normal stays so when all that is said of her is that she was seen."""
    if not said.queen_seen or said.queen_state is not None or before.queen_state is not QueenState.RIGHT:
        return said
    return replace(said, queen_state=QueenState.RIGHT)


def clear(sheet: Sheet, cells: Iterable[tuple[int, GridColumn]]) -> None:
    """Clear cells; a cleared cell is one that nobody looked at."""
    entries: dict[int, Entry] = {}
    for row, column in cells:
        entries[row] = without(entries.get(row, sheet.lines[row].typed), column.fields)
    sheet.put_entries(entries)


def repeat(sheet: Sheet, row: int, say: Callable[[str], object]) -> None:
    """The same as the line above, in the blanks of this one; it is said where there is nothing to repeat."""
    if row <= 0:
        say("There is no line above to repeat")
        return
    above, typed = sheet.views[row - 1].entry, sheet.lines[row].typed
    entry = repeat_line(above, typed)
    if entry != typed:
        sheet.put_entries({row: entry})
    elif outcome_of(above) is Outcome.LOOKED:
        say("The line above says nothing that is not here")
    else:
        say("The hive above was not looked at: nothing to repeat")


def fill_down(sheet: Sheet, rows: range, columns: Sequence[GridColumn]) -> None:
    """The first line of a stretch copied into the blanks of the others, in some columns."""
    names = [name for column in columns for name in column.fields if name not in OF_ONE_HIVE]
    entries = [line.typed for line in sheet.lines]
    sheet.put_entries(dict(enumerate(filled_down(entries, rows, names))))


def normal(sheet: Sheet, rows: range) -> None:
    """What the farm calls normal, in the lines of a stretch that say nothing or have a note alone."""
    kept = {row: sheet.lines[row] for row in rows if _says_nothing(sheet.lines[row])}
    sheet.put_entries({row: over(sheet.habits.normal, line.typed) for row, line in kept.items()})


def _says_nothing(line: Line) -> bool:
    return not line.unread and outcome_of(line.typed) is None and line.typed.question is None


def ask_crew(sheet: Sheet, row: int, words: str) -> None:
    """Keep a line for the crew's questions; the rest posts."""
    line = sheet.lines[row]
    asked = f"{line.typed.question}; {words}" if line.typed.question else words
    sheet.put_entries({row: replace(line.typed, question=asked)})


def accept(sheet: Sheet, row: int) -> list[Finding]:
    """Take the sheet for right where it is against the record, confirm what is odd; gives what wants a reason."""
    line, view = sheet.lines[row], sheet.views[row]
    accepted = line.accepted | taken_codes(view.findings)
    confirmed = line.confirmed
    if accepted == line.accepted:
        confirmed = confirmed | {one.code for one in view.odd}
    if (accepted, confirmed) != (line.accepted, line.confirmed):
        sheet.put({row: changed(line, accepted=accepted, confirmed=confirmed)}, row, "")
    return [one for one in sheet.views[row].open if one.grade is Grade.AGAINST]


def accept_alike(sheet: Sheet, row: int) -> None:
    """The same for every line that has a finding of the same kind."""
    taken = taken_codes(sheet.views[row].open)
    seen = frozenset() if taken else frozenset(one.code for one in sheet.views[row].odd)
    new = {}
    for at, line in enumerate(sheet.lines):
        here = {one.code for one in sheet.views[at].findings}
        if here & (taken | seen):
            new[at] = changed(
                line, accepted=line.accepted | (taken & here), confirmed=line.confirmed | (seen & here)
            )
    sheet.put(new, row, "")


def give_reason(sheet: Sheet, rows: Sequence[int], reason: str) -> None:
    """The written reason of lines."""
    sheet.put(
        {row: changed(sheet.lines[row], reason=reason.strip()) for row in rows}, min(rows, default=0), ""
    )


def add_line(sheet: Sheet, after: int, mark: str) -> int:
    """A line for a hive that is not on the sheet, by its mark; without one for a stranger."""
    known = sheet.carried.get(mark)
    new = line_of(mark=mark, colony_id=known.colony_id if known else None)
    lines = [*sheet.lines[: after + 1], new, *sheet.lines[after + 1 :]]
    sheet.replace_all(lines, sheet.head, after)
    return after + 1


def take_over(sheet: Sheet, read: Sequence[Line], head: Head) -> None:
    """Lines that came back from a workbook laid over those of the draft, in one step of undo.

    What the workbook does not say stays; hives that the sheet does not have come after the others.
    """
    said = {(line.colony_id, line.mark): line for line in read if not line.empty}
    lines = []
    for line in sheet.lines:
        new = said.pop((line.colony_id, line.mark), None)
        entry = line.typed if new is None else over(line.typed, new.typed)
        lines.append(line if entry == line.typed else with_entry(line, entry))
    sheet.replace_all([*lines, *said.values()], head, 0)


def take_over_body(sheet: Sheet, body: Mapping[str, Any]) -> None:
    """The same from the body of a draft; what the marks mean stays as the sheet has it."""
    own = sheet.head
    head = replace(
        head_from(body), stores_in_frames=own.stores_in_frames, feed_kind=own.feed_kind, medicine=own.medicine,
        mites_method=own.mites_method, swaps=own.swaps, corrects=own.corrects, seen=own.seen,
    )  # fmt: skip
    sheet.place["read"] = body["place"].get("read", [])
    take_over(sheet, lines_from(body, sheet.habits), head)


def drop_line(sheet: Sheet, row: int) -> None:
    """Take a line off the sheet that was added; hives that stood here keep theirs."""
    if sheet.lines[row].colony_id not in sheet.here:
        sheet.replace_all([line for at, line in enumerate(sheet.lines) if at != row], sheet.head, row)


def unknown_hives(sheet: Sheet) -> list[int]:
    """Colonies of lines of which nothing was read yet."""
    numbers = (line.colony_id for line in sheet.lines)
    return [one for one in numbers if one is not None and one not in sheet.here and one not in sheet.away]


def move_line(sheet: Sheet, row: int, step: int) -> int:
    """A line earlier or later in the walking order; gives its new row."""
    to = row + step
    if not 0 <= to < len(sheet.lines):
        return row
    lines = list(sheet.lines)
    lines.insert(to, lines.pop(row))
    sheet.replace_all(lines, sheet.head, row)
    return to


def reverse(sheet: Sheet) -> None:
    """Walked from the far end."""
    sheet.replace_all(sheet.lines[::-1], sheet.head, 0)


def set_head(sheet: Sheet, head: Head) -> None:
    """Another head; the quick lines are read anew where the marks now mean something else."""
    before = sheet.habits
    after = head.habits(sheet.desk_sheet.settings.normals)
    lines = sheet.lines
    if before != after:
        lines = [read_line(line, line.text, after) if line.text else line for line in lines]
    sheet.replace_all(lines, head, 0)


def _as_seen(line: Line) -> Entry:
    """The line's own entry; one with only unread marks counts as filled."""
    return Entry(note="unread") if line.unread and line.typed == EMPTY else line.typed
