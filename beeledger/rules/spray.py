"""What may be done on a notice of spraying, with its cautions. Read from ``resources/rules/spray.toml``.

The label of the product, the law of the place and whoever sprays stand above it. Which sites are inside a
circle is reckoned by ``rules.sites.within``.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from beeledger.base.resources import table


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing that may be done."""

    key: str
    words: str
    cautions: tuple[str, ...]
    source: str


@cache
def choices() -> tuple[Choice, ...]:
    """What may be done, the least first."""
    rows = table("rules", "spray.toml")["choice"]
    return tuple(Choice(row["key"], row["words"], tuple(row["cautions"]), row["source"]) for row in rows)


@cache
def first_call() -> str:
    """What is done before anything else."""
    return str(table("rules", "spray.toml")["notice"]["first"])
