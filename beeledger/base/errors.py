"""Errors: the world's fault with a remedy, and an act refused with its findings.

Everything else that is raised is a bug and makes a report.
"""

from __future__ import annotations

from collections.abc import Sequence

from beeledger.base.findings import Finding


class CannotNow(Exception):
    """The world's fault: a sentence of what happened and a remedy a person can carry out."""

    def __init__(self, sentence: str, remedy: str = "") -> None:
        """``sentence`` says what could not be done and why; ``remedy`` how to mend it."""
        super().__init__(f"{sentence} {remedy}".strip())
        self.sentence = sentence
        self.remedy = remedy


class Refused(Exception):
    """An act that was not carried out because of what its checks found. Nothing was written."""

    def __init__(self, findings: Sequence[Finding]) -> None:
        """``findings`` holds at least one that forbids or asks."""
        super().__init__("\n".join(finding.sentence() for finding in findings))
        self.findings = tuple(findings)
