"""What waits beside the places, as words: "3 drafts", "4 late"."""

from __future__ import annotations

from collections.abc import Mapping

from beeledger.base.text import counted
from beeledger.queries.counts import Waiting

_SHORT = frozenset({"medicines", "stock"})
"""Places where what waits is something the law asks for, or stock that is short."""


def waiting_words(waiting: Waiting, drafts: int) -> Mapping[str, tuple[str, bool]]:
    """By place: the words, and whether stock, law or a contract is short. Nothing where nothing waits."""
    said = {
        "today": f"{waiting.sites_late:,} late" if waiting.sites_late else "",
        "rounds": counted(drafts, "draft") if drafts else "",
        "harvest": f"{waiting.takes_to_weigh:,} to weigh" if waiting.takes_to_weigh else "",
        "stock": f"{waiting.stock_low:,} low" if waiting.stock_low else "",
        "medicines": f"{waiting.medicines_to_fill:,} to fill" if waiting.medicines_to_fill else "",
    }
    return {place: (words, place in _SHORT) for place, words in said.items() if words}
