"""The way of honey through the lots: what is in one, where one went, and whether it balances.

A lot is one honey for tracing: what flows out of it has the mixture of all that flowed in,
whenever it did. Quantities are whole grams; mixtures are exact fractions and are rounded only
once, at the end, so that they sum. Lots are named by any key (a number, a mark).
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from graphlib import CycleError, TopologicalSorter
from typing import Generic, TypeVar

from beeledger.base.units import share_out

Lot = TypeVar("Lot", bound=Hashable)
WHOLE_HUNDREDTHS = 10_000


@dataclass(frozen=True, slots=True)
class Transfer(Generic[Lot]):
    """Grams from one lot into another, or into a named sink (wax, spill, a dispatch)."""

    source: Lot
    target: Lot
    grams: int


@dataclass(frozen=True, slots=True)
class Part(Generic[Lot]):
    """An origin's part in a lot: exactly, in whole grams, and as a share in hundredths of a per cent."""

    origin: Lot
    exact_g: Fraction
    grams: int
    share_hundredths: int


@dataclass(frozen=True, slots=True)
class Reach(Generic[Lot]):
    """A lot that holds, or held, some of an earlier lot's honey: how much of it went in."""

    lot: Lot
    exact_g: Fraction
    share: Fraction
    """The earlier lot's share in this one."""


@dataclass(frozen=True, slots=True)
class Balance(Generic[Lot]):
    """A lot's account: first weighed, come in, gone out. ``left_g`` below nought is a breach."""

    lot: Lot
    weighed_g: int
    in_g: int
    out_g: int

    @property
    def left_g(self) -> int:
        """What is still there: weighed + in − out."""
        return self.weighed_g + self.in_g - self.out_g


def find_ring(transfers: Iterable[Transfer[Lot]]) -> tuple[Lot, ...]:
    """Lots that feed each other in a ring, first and last the same; empty when there is none."""
    try:
        _order(transfers)
    except CycleError as error:
        return tuple(error.args[1])
    return ()


def contributions(
    target: Lot,
    transfers: Sequence[Transfer[Lot]],
    weighed: Mapping[Lot, int] | None = None,
    grams: int | None = None,
) -> tuple[Part[Lot], ...]:
    """The origins of a lot with their grams, largest first.

    ``weighed``: grams that began in a lot itself (first weighing, opening balance, bought in);
    lots with nothing flowing in are origins without it. ``grams``: of how much of the lot the
    parts are told; all that ever came into it when None. Grams and shares are split by largest
    remainders. ValueError when transfers run in a ring or carry no positive grams.
    """
    began: Mapping[Lot, int] = weighed or {}
    mixture = _mixture(target, transfers, began)
    total = _content(target, transfers, began) if grams is None else grams
    ranked = sorted(mixture.items(), key=lambda item: -item[1])
    scale = math.lcm(*(share.denominator for share in mixture.values()))
    weights = [int(share * scale) for _, share in ranked]
    whole = share_out(total, weights)
    shares = share_out(WHOLE_HUNDREDTHS, weights)
    return tuple(
        Part(origin, share * total, part, hundredths)
        for (origin, share), part, hundredths in zip(ranked, whole, shares, strict=True)
    )


def onward(
    source: Lot, transfers: Sequence[Transfer[Lot]], weighed: Mapping[Lot, int] | None = None
) -> tuple[Reach[Lot], ...]:
    """Every lot and sink that some of ``source`` flowed into, in the order it flowed.

    The grams are what flowed in, also where it has flowed on since: they are told for each lot
    alone and do not sum over the chain.
    """
    began: Mapping[Lot, int] = weighed or {}
    order = _order(_checked(transfers))
    into = _by_target(transfers)
    share: dict[Lot, Fraction] = {source: Fraction(1)}
    for lot in order:
        came = sum((flow.grams * share.get(flow.source, Fraction(0)) for flow in into[lot]), Fraction(0))
        if came and lot != source:
            share[lot] = came / _content(lot, into[lot], began)
    return tuple(
        Reach(lot, share[lot] * _content(lot, into[lot], began), share[lot])
        for lot in order
        if lot in share and lot != source
    )


def behind(target: Lot, transfers: Sequence[Transfer[Lot]]) -> frozenset[Lot]:
    """Every lot from which anything flowed into ``target``, at any distance."""
    return _walk(
        target, {lot: [flow.source for flow in flows] for lot, flows in _by_target(transfers).items()}
    )


def after(source: Lot, transfers: Sequence[Transfer[Lot]]) -> frozenset[Lot]:
    """Every lot and sink into which anything of ``source`` flowed, at any distance."""
    steps: dict[Lot, list[Lot]] = defaultdict(list)
    for flow in transfers:
        steps[flow.source].append(flow.target)
    return _walk(source, steps)


def balances(
    transfers: Sequence[Transfer[Lot]], weighed: Mapping[Lot, int] | None = None
) -> dict[Lot, Balance[Lot]]:
    """The account of every lot and sink that a transfer or a weighing names."""
    began: Mapping[Lot, int] = weighed or {}
    inflow: dict[Lot, int] = defaultdict(int)
    outflow: dict[Lot, int] = defaultdict(int)
    lots: dict[Lot, None] = dict.fromkeys(began)
    for flow in transfers:
        inflow[flow.target] += flow.grams
        outflow[flow.source] += flow.grams
        lots |= {flow.source: None, flow.target: None}
    return {lot: Balance(lot, began.get(lot, 0), inflow[lot], outflow[lot]) for lot in lots}


def overdrawn(
    transfers: Sequence[Transfer[Lot]], weighed: Mapping[Lot, int] | None = None
) -> tuple[Balance[Lot], ...]:
    """The lots from which more went out than ever came in: to the gram, none may be."""
    accounts = balances(transfers, weighed).values()
    return tuple(account for account in accounts if account.left_g < 0)


def _mixture(
    target: Lot, transfers: Sequence[Transfer[Lot]], began: Mapping[Lot, int]
) -> dict[Lot, Fraction]:
    """The share of each origin in a lot.

    Walked back from the target, each lot after all that it flowed into: one pass over the
    transfers behind the target, however many origins there are.
    """
    into = _by_target(transfers)
    wanted = behind(target, transfers) | {target}
    order = _order(_checked(flow for flow in transfers if flow.target in wanted)) or [target]
    part: dict[Lot, Fraction] = defaultdict(Fraction, {target: Fraction(1)})
    mixture: dict[Lot, Fraction] = {}
    for lot in reversed(order):
        content, own = _content(lot, into[lot], began), began.get(lot, 0)
        if not into[lot]:
            mixture[lot] = part[lot]
        elif own:
            mixture[lot] = part[lot] * own / content
        for flow in into[lot]:
            part[flow.source] += part[lot] * flow.grams / content
    return dict(reversed(mixture.items()))  # of equal parts the one nearer the beginning stands first


def _content(lot: Lot, transfers: Iterable[Transfer[Lot]], began: Mapping[Lot, int]) -> int:
    """All that ever was in a lot."""
    return began.get(lot, 0) + sum(flow.grams for flow in transfers if flow.target == lot)


def _by_target(transfers: Iterable[Transfer[Lot]]) -> defaultdict[Lot, list[Transfer[Lot]]]:
    into: defaultdict[Lot, list[Transfer[Lot]]] = defaultdict(list)
    for flow in transfers:
        into[flow.target].append(flow)
    return into


def _checked(transfers: Iterable[Transfer[Lot]]) -> list[Transfer[Lot]]:
    kept = list(transfers)
    if any(flow.grams <= 0 for flow in kept):
        raise ValueError("a transfer of honey carries grams above nought")
    return kept


def _order(transfers: Iterable[Transfer[Lot]]) -> list[Lot]:
    """Sources before targets. CycleError (a ValueError) names a ring."""
    graph: dict[Lot, list[Lot]] = defaultdict(list)
    for flow in transfers:
        graph[flow.target].append(flow.source)
    return list(TopologicalSorter(graph).static_order())


def _walk(start: Lot, steps: Mapping[Lot, Iterable[Lot]]) -> frozenset[Lot]:
    seen: set[Lot] = set()
    waiting = [start]
    while waiting:
        for lot in steps.get(waiting.pop(), ()):
            if lot not in seen:
                seen.add(lot)
                waiting.append(lot)
    return frozenset(seen)
