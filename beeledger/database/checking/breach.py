"""How a breach is said."""

from __future__ import annotations

from beeledger.base.findings import Finding, Grade, Where


def breach(
    code: str, what: str, record: str, mend: str = "Take back the act that did it, or correct the record"
) -> Finding:
    """A finding of the check: which line, what is wrong, with which record."""
    return Finding(code, Grade.REFUSED, what, mend, Where(record=record))
