"""What a command says: words for people, or one JSON object; findings always named in full."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from beeledger.base.errors import CannotNow, Refused
from beeledger.base.findings import Finding

DONE = 0
REFUSED = 1
USAGE = 2


@dataclass(frozen=True, slots=True)
class Voice:
    """How this command answers."""

    as_json: bool = False

    def answer(self, data: Mapping[str, Any], words: str) -> None:
        """The command's answer: ``data`` as JSON, else ``words``."""
        print(json.dumps(data, ensure_ascii=False, indent=1) if self.as_json else words)

    def tell(self, findings: Iterable[Finding]) -> None:
        """Findings as sentences on the error stream."""
        for finding in findings:
            print(f"{finding.grade.value}: {finding.sentence()}", file=sys.stderr)

    def refused(self, refused: Refused) -> int:
        """An act that was refused: nothing was written."""
        if self.as_json:
            self.answer({"refused": True, "findings": [finding_json(one) for one in refused.findings]}, "")
        self.tell(refused.findings)
        return REFUSED

    def cannot(self, error: CannotNow) -> int:
        """The world's fault, with its remedy."""
        if self.as_json:
            self.answer({"error": error.sentence, "remedy": error.remedy}, "")
        print(f"{error.sentence} {error.remedy}".strip(), file=sys.stderr)
        return REFUSED


def finding_json(finding: Finding) -> dict[str, Any]:
    """A finding as plain data; what does not apply is blank or null."""
    where = finding.where
    return {
        "sheet": where.sheet,
        "row": where.row,
        "column": where.column,
        "field": where.field,
        "record": where.record,
        "code": finding.code,
        "grade": finding.grade.value,
        "what": finding.what,
        "mend": finding.mend,
    }
