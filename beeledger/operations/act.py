"""The one transaction: how every act of a person is carried out.

An operation is a function of an open act and its input; it writes through ``act.session`` and returns the
sentence for History. ``perform`` wraps it: one writer, one line in History, what is due rebuilt for the
colonies it touched. Left by an error, nothing has happened.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Concatenate, ParamSpec

from beeledger.database.audit import OpenAct
from beeledger.database.ledger import Ledger, sentence_of
from beeledger.model.farm import FarmSetting

P = ParamSpec("P")
Operation = Callable[Concatenate[OpenAct, P], str]


@dataclass(frozen=True, slots=True)
class Done:
    """What an act changed: its number, its line in History, the tables it touched, what it gives back."""

    act: int
    kind: str
    sentence: str
    touched: frozenset[str]
    result: Any = None


def perform(ledger: Ledger, operation: Operation[P], *args: P.args, **kwargs: P.kwargs) -> Done:
    """Carry out ``operation`` as one act.

    Raises Refused with findings when its checks forbid or ask, CannotNow for the world's faults; in
    both cases nothing was written.
    """
    return perform_draft(ledger, None, operation, *args, **kwargs)


def perform_draft(
    ledger: Ledger, draft_uid: str | None, operation: Operation[P], *args: P.args, **kwargs: P.kwargs
) -> Done:
    """The same for what was typed in a draft: its uid goes into the act, so it cannot be posted twice."""
    kind = getattr(operation, "__name__", "act")
    with ledger.act(kind, draft_uid=draft_uid) as act:
        sentence = operation(act, *args, **kwargs)
        return finish(act, sentence)


def finish(act: OpenAct, sentence: str) -> Done:
    """Write the line in History, settle the stock, rebuild what is due; the last step inside every act."""
    # Loaded with the first act and not with the window: they know every room of the trade.
    from beeledger.operations.due import keep_rule, rebuild_all, rebuild_due  # noqa: PLC0415
    from beeledger.operations.restricting import refuse_gone  # noqa: PLC0415
    from beeledger.operations.stock_books import settle_stock  # noqa: PLC0415

    act.session.flush()
    refuse_gone(act)
    sentence_of(act, sentence)
    settle_stock(act)
    if act.id == 1:
        keep_rule(act)  # from here on every list of this ledger is of this program's rule
    if FarmSetting.__tablename__ in act.touched:
        rebuild_all(act)  # the farm's own figures stand behind every reason
    elif act.colonies:
        rebuild_due(act)
    return Done(act.id, act.kind, sentence, frozenset(act.touched), act.result)
