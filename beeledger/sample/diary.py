"""The acts of the sample: each carried out on its own evening, as the office would."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import Any, Concatenate, ParamSpec

from beeledger.base.clock import FixedClock, local_moment
from beeledger.database.audit import OpenAct
from beeledger.database.ledger import Ledger, sentence_of
from beeledger.operations.stock_books import settle_stock

P = ParamSpec("P")
_EVENING = 18 * 60
_BETWEEN = 4
"""Minutes after midnight when the office begins, and between one act and the next."""


@dataclass(slots=True)
class Diary:
    """Carries acts out on the days of the sample; the ledger's clock goes with it.

    What is due is worked out once at the end and not after each act of years ago: it follows from the facts.
    """

    ledger: Ledger
    clock: FixedClock
    acts: int = 0
    _minute: int = _EVENING

    def turn_to(self, day: date) -> None:
        """The evening of another day begins."""
        self._minute = _EVENING
        self.clock.moment = local_moment(day, self._minute, self.clock.zone)

    def do(self, operation: Callable[Concatenate[OpenAct, P], str], *args: P.args, **kwargs: P.kwargs) -> Any:
        """Carry one operation out as an act of its own; returns what it gives back."""
        with self.ledger.act(operation.__name__) as act:
            sentence = operation(act, *args, **kwargs)
            act.session.flush()
            sentence_of(act, sentence)
            settle_stock(act)
        self.acts += 1
        self._minute = min(self._minute + _BETWEEN, 23 * 60 + 55)
        self.clock.moment = local_moment(self.clock.today(), self._minute, self.clock.zone)
        return act.result
