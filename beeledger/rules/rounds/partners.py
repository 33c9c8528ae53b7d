"""Checks between the lines of one round: splits, unites and given frames name other hives."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from beeledger.base.findings import Finding, Grade, Where
from beeledger.rules.rounds.entry import Entry, Outcome, outcome_of
from beeledger.rules.rounds.readback import OUTCOMES


class _Line(NamedTuple):
    """Which line a finding stands at."""

    row: int
    mark: str


_GONE = (Outcome.DEAD, Outcome.EMPTY, Outcome.NOT_FOUND)


def check_partners(lines: Sequence[tuple[str, Entry]], carried: Mapping[str, str]) -> list[Finding]:
    """What the lines of a round say of each other's hives.

    ``lines`` are mark and entry in the order of the grid (a mark may be empty); ``carried`` gives for the
    mark of every living colony that they may mean the site where it stands, empty while it is on the way.
    ``Where.row`` is the place of the line, from 0. The same check serves the grid and the posting.
    """
    here = {mark: entry for mark, entry in lines if mark}
    made = {split.mark for _, entry in lines for split in entry.split_to}
    found: list[Finding] = []
    for row, (mark, entry) in enumerate(lines):
        line = _Line(row, mark)
        found += _unite(entry, here, line, known={*carried, *here, *made})
        found += _given(entry, here, line, known={*carried, *here, *made})
        found += _splits(entry, carried, line)
    return found


def _unite(entry: Entry, here: Mapping[str, Entry], line: _Line, known: set[str]) -> list[Finding]:
    partner = entry.united_into
    if partner is None:
        return []
    if partner not in known:
        return [_unknown("united_into", partner, line)]
    if partner in here and outcome_of(here[partner]) in _GONE:
        what = f"united into {partner}, which is {_outcome_words(here[partner])} tonight"
        return [_finding("united_into_gone", Grade.REFUSED, "united_into", what, line)]
    if _comes_back(line.mark, here):
        return [_finding("united_in_a_ring", Grade.REFUSED, "united_into", "united in a ring", line)]
    return []


def _comes_back(mark: str, here: Mapping[str, Entry]) -> bool:
    """Whether the unites of the round lead from ``mark`` back to it."""
    seen: set[str] = set()
    at: str | None = mark
    while at is not None and at in here and at not in seen:
        seen.add(at)
        at = here[at].united_into
    return at == mark and bool(seen)


def _given(entry: Entry, here: Mapping[str, Entry], line: _Line, known: set[str]) -> list[Finding]:
    giver = entry.brood_given_from
    if giver is None:
        return []
    if giver not in known:
        return [_unknown("brood_given_from", giver, line)]
    if giver not in here or outcome_of(here[giver]) not in _GONE:
        return []
    what = f"brood from {giver}, which is {_outcome_words(here[giver])} tonight"
    return [_finding("given_by_the_gone", Grade.DOUBTFUL, "brood_given_from", what, line)]


def _outcome_words(entry: Entry) -> str:
    outcome = outcome_of(entry)
    return "" if outcome is None else OUTCOMES[outcome]


def _splits(entry: Entry, carried: Mapping[str, str], line: _Line) -> list[Finding]:
    return [
        _finding(
            "split_to_known",
            Grade.AGAINST,
            "split_to",
            f"{split.mark} is a colony at {carried[split.mark]}"
            if carried[split.mark]
            else f"{split.mark} is a living colony already",
            line,
            "Accept to join the split to it, or type another mark",
        )
        for split in entry.split_to
        if split.mark in carried and split.mark != line.mark
    ]


def _unknown(field: str, mark: str, line: _Line) -> Finding:
    return _finding(
        "partner_unknown",
        Grade.AGAINST,
        field,
        f"no colony has the mark {mark}",
        line,
        "Accept to keep it as words alone, or type the mark again",
    )


def _finding(
    code: str,
    grade: Grade,
    field: str,
    what: str,
    line: _Line,
    mend: str = "Look at both lines again",
) -> Finding:
    return Finding(f"rounds.{code}", grade, what, mend, Where(row=line.row, field=field, record=line.mark))
