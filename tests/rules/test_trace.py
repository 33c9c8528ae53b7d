"""The way of honey through the lots, against NetworkX and a linear solve by NumPy."""

from __future__ import annotations

from fractions import Fraction

import networkx as nx
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from beeledger.rules import trace
from beeledger.rules.trace import Transfer

# Two crops into two drums, both into a tank, the tank into jars; worked by hand below.
FARM = [
    Transfer("lime crop", "drum 1", 300_000),
    Transfer("bean crop", "drum 2", 100_000),
    Transfer("lime crop", "drum 2", 100_000),
    Transfer("drum 1", "tank", 150_000),
    Transfer("drum 2", "tank", 50_000),
    Transfer("tank", "jars", 180_000),
    Transfer("tank", "foam", 2_000),
]


@st.composite
def farms(draw):
    """Lots 0 … n−1 with transfers only onward, and what began in some of them."""
    number = draw(st.integers(2, 9))
    pairs = [(a, b) for a in range(number) for b in range(a + 1, number)]
    chosen = draw(st.lists(st.sampled_from(pairs), min_size=1, max_size=18))
    flows = [Transfer(a, b, draw(st.integers(1, 10**6))) for a, b in chosen]
    began = draw(st.dictionaries(st.integers(0, number - 1), st.integers(1, 10**6)))
    return number, flows, began


def solved(number, flows, began):
    """Mixtures as the solution of (T − A) x = b: lot i's content times its mixture is what flowed in."""
    content, inflow = np.zeros(number), np.zeros((number, number))
    for flow in flows:
        inflow[flow.target, flow.source] += flow.grams
    own = np.array([began.get(lot, 0) for lot in range(number)], dtype=float)
    own[(inflow.sum(axis=1) == 0) & (own == 0)] = 1.0  # a source without a weighing is all itself
    content = inflow.sum(axis=1) + own
    return np.linalg.solve(np.diag(content) - inflow, np.diag(own))


def test_jars_hold_their_crops_by_the_weights_that_flowed():
    # By hand: tank 3/4 drum 1 and 1/4 drum 2; lime 3/4 + 1/8 = 87.5 %, bean 12.5 %.
    lime, bean = trace.contributions("jars", FARM)
    assert (lime.origin, lime.grams, lime.share_hundredths) == ("lime crop", 157_500, 8750)
    assert (bean.origin, bean.grams, bean.share_hundredths) == ("bean crop", 22_500, 1250)


def test_parts_of_one_jar_sum_to_the_jar():
    parts = trace.contributions("jars", FARM, grams=454)
    assert [part.grams for part in parts] == [397, 57]  # 397.25 and 56.75
    assert parts[1].exact_g == Fraction(227, 4)


def test_three_equal_crops_share_a_hundred_per_cent():
    parts = trace.contributions("tank", [Transfer(crop, "tank", 10) for crop in "abc"])
    assert [part.share_hundredths for part in parts] == [3334, 3333, 3333]


def test_honey_that_was_in_the_drum_before_counts_as_its_own():
    # An opening balance of 100 kg beside 300 kg of lime.
    parts = trace.contributions("drum 1", FARM[:1], {"drum 1": 100_000})
    assert [(part.origin, part.grams) for part in parts] == [("lime crop", 300_000), ("drum 1", 100_000)]


def test_a_crop_comes_from_itself():
    (part,) = trace.contributions("lime crop", FARM, {"lime crop": 400_000})
    assert (part.origin, part.grams, part.share_hundredths) == ("lime crop", 400_000, 10_000)


def test_a_lot_nothing_is_known_of_is_its_own_origin():
    (part,) = trace.contributions("old drum", FARM)
    assert (part.origin, part.grams) == ("old drum", 0)


def test_a_crop_is_found_in_everything_it_went_into():
    reach = {found.lot: (found.exact_g, found.share) for found in trace.onward("bean crop", FARM)}
    assert reach == {
        "drum 2": (100_000, Fraction(1, 2)),
        "tank": (25_000, Fraction(1, 8)),
        "jars": (22_500, Fraction(1, 8)),
        "foam": (250, Fraction(1, 8)),
    }


def test_behind_and_after_name_every_lot_of_a_recall():
    assert trace.behind("tank", FARM) == {"drum 1", "drum 2", "lime crop", "bean crop"}
    assert trace.after("drum 2", FARM) == {"tank", "jars", "foam"}


def test_an_account_balances_to_the_gram():
    accounts = trace.balances(FARM, {"lime crop": 400_000, "bean crop": 100_000})
    assert {lot: account.left_g for lot, account in accounts.items()} == {
        "lime crop": 0, "bean crop": 0, "drum 1": 150_000, "drum 2": 150_000, "tank": 18_000, "jars": 180_000,
        "foam": 2_000,
    }  # fmt: skip
    assert trace.overdrawn(FARM, {"lime crop": 400_000, "bean crop": 100_000}) == ()


def test_a_gram_too_much_out_of_a_lot_is_named():
    (account,) = trace.overdrawn(FARM, {"lime crop": 400_000, "bean crop": 99_999})
    assert (account.lot, account.left_g) == ("bean crop", -1)


def test_a_ring_of_lots_is_named_and_refused():
    ring = [Transfer("a", "b", 1), Transfer("b", "c", 1), Transfer("c", "a", 1)]
    assert set(trace.find_ring(ring)) == {"a", "b", "c"}
    assert trace.find_ring(FARM) == ()
    with pytest.raises(ValueError, match="cycle"):
        trace.contributions("a", ring)


def test_a_transfer_of_nothing_is_refused():
    with pytest.raises(ValueError, match="above nought"):
        trace.contributions("b", [Transfer("a", "b", 0)])


@settings(max_examples=60, deadline=None)
@given(farms())
def test_mixtures_are_those_of_a_linear_solve(farm):
    number, flows, began = farm
    oracle = solved(number, flows, began)
    for lot in range(number):
        mixture = {part.origin: part for part in trace.contributions(lot, flows, began, grams=10**6)}
        row = [float(mixture[o].exact_g) / 10**6 if o in mixture else 0.0 for o in range(number)]
        assert row == pytest.approx(list(oracle[lot]), abs=1e-9)
        assert sum(part.exact_g for part in mixture.values()) == 10**6
        assert sum(part.grams for part in mixture.values()) == 10**6
        assert sum(part.share_hundredths for part in mixture.values()) == 10_000


@settings(max_examples=60, deadline=None)
@given(farms())
def test_behind_and_after_are_those_of_networkx(farm):
    number, flows, _ = farm
    graph = nx.DiGraph()
    graph.add_nodes_from(range(number))
    graph.add_edges_from((flow.source, flow.target) for flow in flows)
    for lot in range(number):
        assert trace.behind(lot, flows) == nx.ancestors(graph, lot)
        assert trace.after(lot, flows) == nx.descendants(graph, lot)
        assert {reach.lot for reach in trace.onward(lot, flows)} == nx.descendants(graph, lot)


@settings(max_examples=60, deadline=None)
@given(farms())
def test_forward_and_backward_tell_the_same_grams(farm):
    number, flows, began = farm
    inflow = {flow.target for flow in flows}
    for source in set(range(number)) - inflow:
        for reach in trace.onward(source, flows, began):
            parts = {part.origin: part.exact_g for part in trace.contributions(reach.lot, flows, began)}
            assert parts[source] == reach.exact_g
