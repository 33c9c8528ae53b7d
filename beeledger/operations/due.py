"""What is due, rebuilt at the end of each act for the colonies it touched."""

from __future__ import annotations

from beeledger.database.audit import OpenAct


def rebuild_due(act: OpenAct) -> None:
    """Placeholder until the rule of what is due is wired."""
    _ = act
