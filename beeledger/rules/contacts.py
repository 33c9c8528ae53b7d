"""Contacts: what a place or colony may have reached, and what may have reached it, onward along dated links.

A link joins two things for a time: a colony stood at a site, rode on a trip, or a frame went from one colony
to another. What is known by its moments holds between them; what is known by its day alone may have been at
any moment of it, so that everything of one day meets (the worst case). A thing once reached stays reached.
Never backward in time: what left before contact came is not in contact.

Source: temporal reachability by earliest arrival: Wu, Cheng, Huang, Ke, Lu, Xu, "Path problems in temporal
graphs", Proc. VLDB Endowment 7(9), 2014, with links that last. What a contact means for a disease is for the
inspector to say, not for this.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from heapq import heappop, heappush
from typing import NamedTuple

Node = tuple[str, int]
"""A kind ("site", "colony", "trip", "vehicle", "take") and the number of it."""


class Link(NamedTuple):
    """Two things joined from ``first`` until ``last``, both within it, in seconds of one clock."""

    start: Node
    goal: Node
    first: int
    last: int
    both: bool = True
    """Whether contact passes both ways, or from start to goal only, as with a frame given."""
    key: int = 0
    """Whose it is, for the caller."""


_Out = tuple[int, int, Node, Link]
"""A link out of a thing: first, last, where to, itself; a plain tuple, because there are many."""


class Step(NamedTuple):
    """One step of a path: by which link, no earlier than when."""

    start: Node
    goal: Node
    at: int
    link: Link


@dataclass(frozen=True, slots=True)
class Contact:
    """A thing in contact, and the way there in the fewest steps, in time order.

    ``at``: onward the first second of contact; traced back the last second at which it could still pass on.
    """

    node: Node
    at: int
    steps: tuple[Step, ...]


@dataclass(frozen=True, slots=True)
class _Way:
    """The last step of a path and what comes before it."""

    before: _Way | None
    step: Step


def onward(links: Iterable[Link], seeds: Iterable[Node], first: int, last: int) -> dict[Node, Contact]:
    """What ``seeds``, in contact from ``first`` on, may have reached by ``last``; the seeds are not in it."""
    roots = list(seeds)
    ways = _ways(links, first, last)
    at = _earliest(ways, roots, first)
    found = _fewest(ways, roots, first, len(at))
    return {node: Contact(node, at[node], steps) for node, steps in found.items()}


def traced_back(links: Iterable[Link], seeds: Iterable[Node], first: int, last: int) -> dict[Node, Contact]:
    """What, in contact at some moment since ``first``, may have reached ``seeds`` by ``last``: time read backward."""
    every = list(links)
    turned = [
        Link(link.goal, link.start, -link.last, -link.first, link.both, number)
        for number, link in enumerate(every)
    ]
    found = onward(turned, seeds, -last, -first)
    return {node: Contact(node, -one.at, _in_time(one.steps, every)) for node, one in found.items()}


def _in_time(steps: Sequence[Step], every: Sequence[Link]) -> tuple[Step, ...]:
    return tuple(Step(step.goal, step.start, -step.at, every[step.link.key]) for step in reversed(steps))


def _ways(links: Iterable[Link], first: int, last: int) -> dict[Node, list[_Out]]:
    """The links out of each thing within the period."""
    ways: dict[Node, list[_Out]] = {}
    for link in links:
        if link.last < first or link.first > last:
            continue
        end = min(link.last, last)
        ways.setdefault(link.start, []).append((link.first, end, link.goal, link))
        if link.both:
            ways.setdefault(link.goal, []).append((link.first, end, link.start, link))
    return ways


def _earliest(ways: Mapping[Node, Sequence[_Out]], roots: Sequence[Node], first: int) -> dict[Node, int]:
    """The first second of contact of each thing reached, roots too: each is settled once, soonest first."""
    at: dict[Node, int] = dict.fromkeys(roots, first)
    settled: set[Node] = set()
    heap = [(first, node) for node in roots]
    while heap:
        now, node = heappop(heap)
        if node in settled:
            continue
        settled.add(node)
        for begins, ends, goal, _ in ways.get(node, ()):
            when = max(now, begins)
            if when <= ends and when < at.get(goal, when + 1):
                at[goal] = when
                heappush(heap, (when, goal))
    return at


def _fewest(
    ways: Mapping[Node, Sequence[_Out]], roots: Sequence[Node], first: int, many: int
) -> dict[Node, tuple[Step, ...]]:
    """The path of fewest steps to each of the ``many`` reached, of those the one that is there first.

    One round a step; a thing found goes on into the next round also when it is only reached sooner, because a
    longer path that is there sooner may catch a link that a shorter one misses.
    """
    best: dict[Node, int] = dict.fromkeys(roots, first)
    edge: dict[Node, tuple[int, _Way | None]] = dict.fromkeys(roots, (first, None))
    found: dict[Node, tuple[Step, ...]] = {}
    while edge and len(found) + len(set(roots)) < many:
        new: dict[Node, tuple[int, _Way | None]] = {}
        for node, (now, way) in edge.items():
            for begins, ends, goal, link in ways.get(node, ()):
                when = max(now, begins)
                if when <= ends and when < best.get(goal, when + 1):
                    best[goal] = when
                    new[goal] = (when, _Way(way, Step(node, goal, when, link)))
        for node, (_, way) in new.items():
            if node not in found and way is not None:
                found[node] = _steps(way)
        edge = new
    return found


def _steps(way: _Way | None) -> tuple[Step, ...]:
    steps = []
    while way is not None:
        steps.append(way.step)
        way = way.before
    return tuple(reversed(steps))
