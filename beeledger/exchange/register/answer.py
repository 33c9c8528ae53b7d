"""A reading as plain data, for ``beeledger import --json`` and for comparing."""

from __future__ import annotations

from typing import Any

from beeledger.base.findings import Finding, Grade
from beeledger.exchange.register.records import ColonyRow, RegisterReading, SiteRow


def as_json(reading: RegisterReading) -> dict[str, Any]:
    """Sites, colonies and findings; ISO dates, grid references as two letters and ten figures."""
    return {
        "sites": [_site(site) for site in reading.sites],
        "colonies": [_colony(colony) for colony in reading.colonies],
        "findings": [finding_row(finding) for finding in reading.findings],
    }


def _site(site: SiteRow) -> dict[str, Any]:
    return {"name": site.name, "grid": site.grid, "capacity": site.capacity}


def _colony(colony: ColonyRow) -> dict[str, Any]:
    return {
        "hive": colony.hive,
        "site": colony.site,
        "queen_year": colony.queen_year,
        "seen": colony.seen.isoformat() if colony.seen else None,
        "brood": _frames(colony.brood_tenths),
        "supers": colony.supers,
        "temper": colony.temper,
    }


def _frames(tenths: int | None) -> int | float | None:
    if tenths is None:
        return None
    return tenths // 10 if tenths % 10 == 0 else tenths / 10


def finding_row(finding: Finding) -> dict[str, Any]:
    """A finding as the answer has it."""
    grade = Grade.DOUBTFUL if finding.grade is Grade.AGAINST else finding.grade
    return {
        "sheet": finding.where.sheet,
        "row": finding.where.row,
        "column": finding.where.column,
        "grade": grade.value,
        "what": finding.what,
        "mend": finding.mend,
    }
