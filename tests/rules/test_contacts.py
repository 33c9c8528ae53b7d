"""Contacts onward and back, against a general graph library on a graph of every thing at every second."""

from __future__ import annotations

from itertools import pairwise

import networkx as nx
from hypothesis import given
from hypothesis import strategies as st

from beeledger.rules.contacts import Contact, Link, Node, onward, traced_back

ASH, BECK, CLAY = ("site", 1), ("site", 2), ("site", 3)
H1, H2, H3 = ("colony", 1), ("colony", 2), ("colony", 3)
END = 9
nodes = st.sampled_from([ASH, BECK, CLAY, H1, H2, H3, ("trip", 1)])


@st.composite
def links(draw: st.DrawFn) -> Link:
    start = draw(nodes)
    goal = draw(nodes.filter(lambda node: node != start))
    first = draw(st.integers(0, END))
    return Link(start, goal, first, draw(st.integers(first, END)), draw(st.booleans()))


def stay(colony: Node, site: Node, first: int, last: int) -> Link:
    return Link(colony, site, first, last)


def expanded(log: list[Link], first: int, last: int) -> nx.DiGraph:
    """Every thing at every second of the period: time passes, and a link is a way while it lasts."""
    graph = nx.DiGraph()
    for node in {end for link in log for end in (link.start, link.goal)} | {ASH}:
        nx.add_path(graph, [(node, now) for now in range(first, last + 1)])
    for link in log:
        for now in range(max(first, link.first), min(last, link.last) + 1):
            graph.add_edge((link.start, now), (link.goal, now))
            if link.both:
                graph.add_edge((link.goal, now), (link.start, now))
    return graph


def fewest_steps(graph: nx.DiGraph, source: tuple[Node, int], goal: Node) -> int:
    """The fewest links of any way: waiting costs nothing, a link one."""
    lengths = nx.single_source_dijkstra_path_length(graph, source, weight=lambda a, b, _: int(a[0] != b[0]))
    return min(int(far) for (node, _), far in lengths.items() if node == goal)


def holds_together(one: Contact, first: int, last: int) -> bool:
    """Each step begins where the one before it ended, no sooner, and within its link."""
    steps = one.steps
    joined = all(a.goal == b.start and a.at <= b.at for a, b in pairwise(steps))
    within = all(step.link.first <= step.at <= step.link.last and first <= step.at <= last for step in steps)
    ends = all({step.start, step.goal} == {step.link.start, step.link.goal} for step in steps)
    return joined and within and ends


def test_what_left_before_contact_came_is_not_in_contact() -> None:
    """Hive 2 left Ash before hive 1 came; hive 3 came after."""
    log = [stay(H2, ASH, 0, 2), stay(H1, ASH, 3, 5), stay(H3, ASH, 6, 7)]
    assert set(onward(log, [H1], 0, END)) == {ASH, H3}


def test_contact_goes_on_with_a_hive_and_says_the_day_and_the_way() -> None:
    log = [stay(H1, ASH, 0, 3), stay(H1, BECK, 4, 9), stay(H2, BECK, 6, 9)]
    found = onward(log, [ASH], 1, END)
    assert {node: one.at for node, one in found.items()} == {H1: 1, BECK: 4, H2: 6}
    assert [step.goal for step in found[H2].steps] == [H1, BECK, H2]


def test_frames_given_pass_contact_one_way_only() -> None:
    given_ = Link(H1, H2, 4, 4, both=False)
    assert set(onward([given_], [H1], 0, END)) == {H2}
    assert not onward([given_], [H2], 0, END)
    assert set(traced_back([given_], [H2], 0, END)) == {H1}


def test_two_frames_of_one_day_meet_whichever_was_typed_first() -> None:
    day = [Link(H2, H3, 2, 4, both=False), Link(H1, H2, 2, 4, both=False)]
    assert set(onward(day, [H1], 0, END)) == {H2, H3}


def test_moments_of_one_day_that_say_otherwise_are_believed() -> None:
    """Hive 2 left at 3, hive 1 came at 4 of the same day."""
    assert set(onward([stay(H2, ASH, 0, 3), stay(H1, ASH, 4, 9)], [H1], 0, END)) == {ASH}


def test_a_way_of_more_steps_may_be_there_sooner_and_both_are_said() -> None:
    log = [Link(ASH, CLAY, 8, 8), Link(ASH, BECK, 1, 1), Link(BECK, CLAY, 2, 2)]
    found = onward(log, [ASH], 0, END)[CLAY]
    assert found.at == 2
    assert len(found.steps) == 1


def test_tracing_back_ends_at_the_last_moment_it_could_still_pass_on() -> None:
    log = [stay(H1, ASH, 0, 3), stay(H1, BECK, 4, 9)]
    back = traced_back(log, [BECK], 0, END)
    assert {node: one.at for node, one in back.items()} == {H1: 9, ASH: 3}
    assert [(step.start, step.goal) for step in back[ASH].steps] == [(ASH, H1), (H1, BECK)]


@given(st.lists(links(), max_size=14), st.integers(0, END), st.integers(0, END))
def test_onward_equals_the_time_expanded_graph(log: list[Link], one: int, other: int) -> None:
    """networkx descendants and Dijkstra on the expanded graph are the judges."""
    first, last = sorted((one, other))
    graph = expanded(log, first, last)
    reached: dict[Node, int] = {}
    for node, now in nx.descendants(graph, (ASH, first)):
        if node != ASH:
            reached[node] = min(now, reached.get(node, now))
    found = onward(log, [ASH], first, last)
    assert {node: contact.at for node, contact in found.items()} == reached
    for node, contact in found.items():
        assert holds_together(contact, first, last)
        assert contact.steps[0].start == ASH
        assert contact.steps[-1].goal == node
        assert len(contact.steps) == fewest_steps(graph, (ASH, first), node)


@given(st.lists(links(), max_size=14), st.integers(0, END), st.integers(0, END))
def test_back_equals_the_ancestors_of_the_time_expanded_graph(log: list[Link], one: int, other: int) -> None:
    first, last = sorted((one, other))
    reached: dict[Node, int] = {}
    for node, now in nx.ancestors(expanded(log, first, last), (ASH, last)):
        if node != ASH:
            reached[node] = max(now, reached.get(node, now))
    found = traced_back(log, [ASH], first, last)
    assert {node: contact.at for node, contact in found.items()} == reached
    for node, contact in found.items():
        assert holds_together(contact, first, last)
        assert (contact.steps[0].start, contact.steps[-1].goal) == (node, ASH)
