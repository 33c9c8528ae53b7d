"""Descent of queens: a queen has a dam and a drone, a drone has a mother only."""

from __future__ import annotations

from itertools import count

import pytest

from beeledger.rules.pedigree import (
    Box,
    Descent,
    MatingKind,
    Unknown,
    descends_from,
    on_both_sides,
    pedigree,
    wanted_next,
)

SUBJECT, DAM, DRONE_MOTHER, GRANDDAM = 1, 2, 3, 4
DRONES = MatingKind.DRONES


def box(boxes: tuple[Box, ...], generation: int, place: int) -> Box:
    return next(one for one in boxes if (one.generation, one.place) == (generation, place))


def whole(generations: int) -> tuple[Box, ...]:
    """A pedigree in which everybody is known and nobody stands twice."""
    numbers = count(2)
    known: dict[int, Descent] = {}
    boxes = pedigree(1, known, 0)
    for column in range(generations):
        for queen in wanted_next(boxes):
            dam, mother = next(numbers), next(numbers)
            known[queen] = Descent(dam, *_mated(known, queen))
            known[dam] = Descent(None, DRONES, (mother,))
        boxes = pedigree(1, known, column + 1)
    return boxes


def _mated(known: dict[int, Descent], queen: int) -> tuple[MatingKind | None, tuple[int, ...]]:
    own = known.get(queen, Descent())
    return own.mating, own.drone_mothers


def test_the_drones_of_a_queen_are_those_her_dam_was_mated_to() -> None:
    known = {
        SUBJECT: Descent(DAM, MatingKind.OPEN),
        DAM: Descent(GRANDDAM, DRONES, (DRONE_MOTHER,)),
        GRANDDAM: Descent(mating=MatingKind.OPEN),
    }
    boxes = pedigree(SUBJECT, known, 2)
    assert box(boxes, 1, 0) == Box(1, 0, (DAM,))
    assert box(boxes, 1, 1) == Box(1, 1, (DRONE_MOTHER,))
    assert box(boxes, 2, 0) == Box(2, 0, (GRANDDAM,))
    assert box(boxes, 2, 1).unknown is Unknown.OPEN


@pytest.mark.parametrize(
    ("dam", "said"),
    [
        (Descent(), Unknown.MATING),
        (Descent(mating=MatingKind.OPEN), Unknown.OPEN),
        (Descent(mating=MatingKind.POOLED), Unknown.POOLED),
        (Descent(mating=DRONES), Unknown.DRONES),
        (Descent(mating=MatingKind.SINGLE), Unknown.DRONES),
    ],
)
def test_an_empty_box_says_which_kind_of_unknown_it_is(dam: Descent, said: Unknown) -> None:
    boxes = pedigree(SUBJECT, {SUBJECT: Descent(DAM), DAM: dam}, 1)
    assert box(boxes, 1, 1).unknown is said


def test_without_a_dam_neither_side_is_known_and_nothing_stands_above() -> None:
    boxes = pedigree(SUBJECT, {}, 3)
    assert [one.unknown for one in boxes] == [None, Unknown.DAM, Unknown.MATING]


def test_drones_of_several_mothers_share_a_box_and_go_no_further() -> None:
    known = {SUBJECT: Descent(DAM), DAM: Descent(mating=DRONES, drone_mothers=(5, 6)), 5: Descent(7)}
    boxes = pedigree(SUBJECT, known, 2)
    assert box(boxes, 1, 1).queen_ids == (5, 6)
    assert not [one for one in boxes if one.generation == 2 and one.place >= 2]


def test_queens_n_generations_back_are_counted_by_fibonacci() -> None:
    # S. L. Basin, "The Fibonacci sequence as it appears in nature", Fibonacci Quarterly 1 (1963) 53–56, from
    # memory: a drone has a mother only, a female two parents, so the females of each generation back from a
    # queen number 1, 1, 2, 3, 5, 8. A step to the drone side of a box passes two generations: the drone, his mother.
    boxes = whole(5)
    assert len(boxes) == 2**6 - 1
    back = [one.generation + one.place.bit_count() for one in boxes]
    assert [back.count(generation) for generation in range(6)] == [1, 1, 2, 3, 5, 8]


def test_an_ancestor_on_both_sides_is_found() -> None:
    known = {
        SUBJECT: Descent(DAM),
        DAM: Descent(GRANDDAM, DRONES, (DRONE_MOTHER,)),
        DRONE_MOTHER: Descent(GRANDDAM),
    }
    assert on_both_sides(pedigree(SUBJECT, known, 1)) == frozenset()
    assert on_both_sides(pedigree(SUBJECT, known, 2)) == {GRANDDAM}


def test_descent_is_followed_on_either_side_and_ends_in_a_ring() -> None:
    known = {
        SUBJECT: Descent(DAM),
        DAM: Descent(GRANDDAM, DRONES, (DRONE_MOTHER,)),
        GRANDDAM: Descent(SUBJECT),
    }
    assert descends_from(SUBJECT, DRONE_MOTHER, known)
    assert descends_from(SUBJECT, SUBJECT, known)
    assert not descends_from(DRONE_MOTHER, SUBJECT, known)
    assert not descends_from(SUBJECT, 99, known)


def test_the_columns_share_the_height_evenly() -> None:
    assert [one.height for one in pedigree(1, {1: Descent(2)}, 1)] == [0.5, 0.25, 0.75]


def test_less_than_no_generation_is_a_mistake() -> None:
    with pytest.raises(ValueError, match="no fewer"):
        pedigree(1, {}, -1)
