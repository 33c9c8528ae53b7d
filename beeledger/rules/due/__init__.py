"""What is due at a colony, and why: dated reasons from what was last recorded of it.

A pure rule: the same facts give the same reasons, and their dates do not move with the day, so a
table of them stays true until the next act; only the grade (late, today, soon) is read off today.
Figures stand in ``resources/rules/due.toml``. It advises; the beekeeper decides. What is not known
(None) makes nothing due by itself, except that nobody looked.
"""

from __future__ import annotations

from beeledger.rules.due.adjusting import DAY, Adjustable, Own, adjustables, with_own
from beeledger.rules.due.facts import Asked, ColonyFacts, Due, Fact, Fed, Grafted
from beeledger.rules.due.figures import (
    NO_SOURCE,
    DueSettings,
    ReasonFigures,
    default_settings,
    reason_figures,
)
from beeledger.rules.due.reasons import due
from beeledger.rules.due.words import Grade, counted_words, grade, grade_words, pressing, work_minutes

__all__ = [
    "DAY",
    "NO_SOURCE",
    "Adjustable",
    "Asked",
    "ColonyFacts",
    "Due",
    "DueSettings",
    "Fact",
    "Fed",
    "Grade",
    "Grafted",
    "Own",
    "ReasonFigures",
    "adjustables",
    "counted_words",
    "default_settings",
    "due",
    "grade",
    "grade_words",
    "pressing",
    "reason_figures",
    "with_own",
    "work_minutes",
]
