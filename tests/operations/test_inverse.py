"""The order in which an act's rows are taken back: nothing that is pointed at goes first, room is made before it is taken."""

from __future__ import annotations

from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from beeledger.model import acts  # noqa: F401  # the tables must be known
from beeledger.operations.inverse import Changes, Step, Turn, references, steps

Image = dict[str, Any] | None


def order(changes: Changes) -> list[tuple[str, int]]:
    return [(step.table, step.row_id) for portion in steps(changes) for step in portion]


def test_children_go_before_their_parents_and_come_back_after_them() -> None:
    colony: Image = {"id": 1}
    mark: Image = {"id": 5, "colony_id": 1}
    made: Changes = {"colony": [(1, None, colony)], "hive_mark": [(5, None, mark)]}
    assert order(made) == [("hive_mark", 5), ("colony", 1)]
    ended: Changes = {"colony": [(1, colony, None)], "hive_mark": [(5, mark, None)]}
    assert order(ended) == [("colony", 1), ("hive_mark", 5)]


def test_daughters_go_before_their_dam_in_whatever_order_they_were_written() -> None:
    dam, daughter, grand = {"id": 9, "dam_id": None}, {"id": 2, "dam_id": 9}, {"id": 4, "dam_id": 2}
    made: Changes = {"queen": [(9, None, dam), (2, None, daughter), (4, None, grand)]}
    assert order(made) == [("queen", 4), ("queen", 2), ("queen", 9)]
    gone: Changes = {"queen": [(4, grand, None), (9, dam, None), (2, daughter, None)]}
    assert order(gone) == [("queen", 9), ("queen", 2), ("queen", 4)]


def test_a_row_lets_go_of_its_site_before_the_site_goes() -> None:
    before, after = {"id": 1, "site_id": 1, "until_at": None}, {"id": 1, "site_id": 2, "until_at": None}
    changes: Changes = {"site": [(2, None, {"id": 2})], "placement": [(1, before, after)]}
    assert order(changes) == [("placement", 1), ("site", 2)]


def test_within_a_table_rows_go_then_shorten_then_lengthen_then_come_back() -> None:
    def stay(row: int, until: str | None) -> dict[str, Any]:
        return {"id": row, "colony_id": 7, "until_at": until, "until_on": until}

    changes: Changes = {
        "placement": [
            (1, stay(1, None), stay(1, "b")),  # lasts longer again
            (2, stay(2, "a"), stay(2, "c")),  # ends sooner again
            (3, stay(3, "z"), None),  # comes back
            (4, None, stay(4, None)),  # goes
        ]
    }
    assert order(changes) == [("placement", 4), ("placement", 2), ("placement", 1), ("placement", 3)]


def test_two_rows_under_one_number_are_taken_back_as_two() -> None:
    # In files made before numbers were given once: a stay went, and the one that came got its number.
    was = {"id": 2, "colony_id": 7, "from_at": "b", "until_at": None}
    now = {"id": 2, "colony_id": 7, "from_at": "d", "until_at": None}
    first = ({"id": 1, "from_at": "a", "until_at": "b"}, {"id": 1, "from_at": "a", "until_at": "d"})
    changes: Changes = {"placement": [(2, was, now), (1, *first)]}
    assert [(step.row_id, step.turn) for portion in steps(changes) for step in portion] == [
        (2, Turn.REMOVE), (1, Turn.SHORTEN), (2, Turn.BRING_BACK),
    ]  # fmt: skip


def test_a_name_is_free_again_before_it_is_taken_back() -> None:
    changes: Changes = {
        "site": [
            (
                1,
                {"id": 1, "name": "Long Drove", "closed_on": None},
                {"id": 1, "name": "Long Drove", "closed_on": "x"},
            ),
            (2, None, {"id": 2, "name": "Long Drove", "closed_on": None}),
        ],
        "placement": [(8, {"id": 8, "site_id": 1}, {"id": 8, "site_id": 2})],
    }
    assert order(changes) == [("placement", 8), ("site", 2), ("site", 1)]


def test_where_references_and_room_contradict_references_win() -> None:
    changes: Changes = {
        "queen": [
            (1, {"id": 1, "dam_id": None}, {"id": 1, "dam_id": 2}),
            (2, None, {"id": 2, "dam_id": None}),
        ]
    }
    assert order(changes) == [("queen", 1), ("queen", 2)]


def test_a_row_that_came_and_went_within_the_act_needs_no_step() -> None:
    assert steps({"site": [(1, None, None)]}) == []


def test_a_step_tells_what_the_row_becomes() -> None:
    assert steps({"site": [(1, {"id": 1}, {"id": 1, "name": "x"})]}) == [
        [Step("site", 1, Turn.SHORTEN, {"id": 1})]
    ]


def test_the_columns_that_point_at_others_are_known() -> None:
    from beeledger.model.base import Base

    assert set(references(Base.metadata.tables["hive_mark"])) == {("colony_id", "colony")}
    assert ("dam_id", "queen") in references(Base.metadata.tables["queen"])


dams = st.lists(st.one_of(st.none(), st.integers(0, 12)), min_size=1, max_size=12)


@given(dams=dams, shuffled=st.randoms(use_true_random=False))
def test_any_family_of_queens_can_go_and_come_back(dams: list[int | None], shuffled: Any) -> None:
    images = {
        number: {"id": number, "dam_id": dam if dam is not None and dam < number else None}
        for number, dam in enumerate(dams)
    }
    rows = list(images.items())
    shuffled.shuffle(rows)
    standing = set(images)
    for table, number in order({"queen": [(number, None, image) for number, image in rows]}):
        assert table == "queen"
        assert not any(images[other]["dam_id"] == number for other in standing - {number})
        standing.remove(number)
    for _, number in order({"queen": [(number, image, None) for number, image in rows]}):
        assert images[number]["dam_id"] is None or images[number]["dam_id"] in standing
        standing.add(number)
    assert standing == set(images)
