"""What a check has to say: a value, never an exception.

A finding names where it is, what is wrong and how to mend it. The same findings serve the entry
grid, forms, imports, the command line and ``beeledger check``.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum


class Grade(StrEnum):
    """How grave a finding is."""

    REFUSED = "refused"
    """Forbidden by logic or arithmetic: holds what it stands on."""
    AGAINST = "against"
    """Contradicts the record: asked about, one key accepts it and corrects the record."""
    DOUBTFUL = "doubtful"
    """Odd: wants a look, does not hold anything."""
    NOTED = "noted"
    """Said for completeness."""


@dataclass(frozen=True, slots=True)
class Where:
    """The place of a finding: a cell of a sheet, a field of a form, or a row of a table."""

    sheet: str = ""
    row: int | None = None
    column: str = ""
    field: str = ""
    record: str = ""

    def words(self) -> str:
        """The place as a person would say it: "Hives, row 43, column C"."""
        parts = [self.sheet]
        if self.row is not None:
            parts.append(f"row {self.row}")
        if self.column:
            parts.append(f"column {self.column}")
        if self.field:
            parts.append(self.field)
        if self.record:
            parts.append(self.record)
        return ", ".join(part for part in parts if part)


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing a check found. ``code`` names the rule and is stable; the words may change."""

    code: str
    grade: Grade
    what: str
    mend: str = ""
    where: Where = Where()

    def sentence(self) -> str:
        """Everything in one line: where, what, how to mend."""
        place = self.where.words()
        head = f"{place}: {self.what}" if place else self.what
        return f"{head}. {self.mend}." if self.mend else f"{head}."


def gravest(findings: Iterable[Finding]) -> Grade | None:
    """The worst grade among ``findings``; None when there are none."""
    order = list(Grade)
    return min((finding.grade for finding in findings), key=order.index, default=None)


def holds(findings: Iterable[Finding]) -> bool:
    """Whether any finding forbids going on."""
    return any(finding.grade is Grade.REFUSED for finding in findings)
