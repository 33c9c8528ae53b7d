"""What a van takes along and what its crew minds, by the reasons of the sites it goes to.

Words and cautions stand in ``resources/rules/day_plan.toml``: common practice, no source. Weights are not reckoned.
"""

from __future__ import annotations

from collections.abc import Mapping

from beeledger.base.resources import table
from beeledger.base.text import counted


def take_along(reasons: Mapping[str, int]) -> tuple[str, ...]:
    """Lines of what to load; ``reasons``: how often each reason's code is due on the way."""
    return tuple(
        f"{row['what']}: up to {counted(count, 'hive')}"
        for row in table("rules", "day_plan.toml")["load"]["take"]
        if (count := sum(reasons.get(code, 0) for code in row["codes"]))
    )


def cautions(reasons: Mapping[str, int]) -> tuple[str, ...]:
    """What to mind: with what is on the van first, then what always holds."""
    load = table("rules", "day_plan.toml")["load"]
    own = [
        row["caution"]
        for row in load["take"]
        if "caution" in row and any(reasons.get(code) for code in row["codes"])
    ]
    return tuple(dict.fromkeys([*own, *load["always"]]))
