"""History as it is read: newest first, page by page, in words."""

from __future__ import annotations

import pytest
from sqlalchemy import event

from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.due import rebuild_all
from beeledger.operations.farm import set_farm
from beeledger.operations.sites import NewSite, add_site
from beeledger.operations.undo import undo
from beeledger.queries.acts import ActLine, acts, acts_of_row, changes_of, last_act_of, taken_back
from tests.builders.yards import yard


def lines(ledger: Ledger, *args: object, **named: object) -> list[ActLine]:
    with ledger.read() as session:
        return acts(session, *args, **named)


def settle(ledger: Ledger, count: int) -> None:
    for number in range(count):
        perform(ledger, set_farm, {"contact": f"01353 {number:06d}"})


def statements(ledger: Ledger, words: str = "") -> int:
    seen: list[str] = []
    event.listen(ledger.engine, "before_cursor_execute", lambda *args: seen.append(args[2]))
    lines(ledger, words)
    return len([statement for statement in seen if statement.startswith("SELECT")])


def test_pages_follow_each_other_by_number_without_a_gap(ledger: Ledger) -> None:
    settle(ledger, 7)
    first = lines(ledger, limit=3)
    second = lines(ledger, "", first[-1].id, limit=3)
    third = lines(ledger, "", second[-1].id, limit=3)
    assert [line.id for line in first + second + third] == [7, 6, 5, 4, 3, 2, 1]


def test_an_act_is_found_by_its_words_its_number_and_who_did_it(ledger: Ledger) -> None:
    ledger.who = "MB"
    perform(ledger, add_site, NewSite("Sedge Holt"))
    ledger.who = "office"
    settle(ledger, 2)
    assert [line.id for line in lines(ledger, "sedge")] == [1]
    assert [line.id for line in lines(ledger, "mb")] == [1]
    assert [line.id for line in lines(ledger, "3")] == [3]
    assert [line.id for line in lines(ledger, "add site")] == [1]


@pytest.mark.parametrize("words", ["%", "01353_0", "\\", "100 % honey"])
def test_signs_of_the_search_itself_are_taken_as_typed(ledger: Ledger, words: str) -> None:
    settle(ledger, 2)
    assert lines(ledger, words) == []


def test_an_act_taken_back_says_by_which(ledger: Ledger) -> None:
    made = perform(ledger, add_site, NewSite("Sedge Holt"))
    back = undo(ledger, made.act)
    assert [(line.id, line.taken_back_by, line.undoes) for line in lines(ledger)] == [
        (2, None, 1),
        (1, back.act, None),
    ]


def test_an_act_brought_again_does_not_stand_taken_back(ledger: Ledger) -> None:
    made = perform(ledger, add_site, NewSite("Sedge Holt"))
    back = undo(ledger, made.act)
    again = undo(ledger, back.act)
    with ledger.read() as session:
        assert taken_back(session, [made.act, back.act, again.act]) == {back.act: again.act}


def test_one_act_and_three_are_read_with_the_same_number_of_queries(ledger: Ledger) -> None:
    settle(ledger, 1)
    one = statements(ledger)
    settle(ledger, 2)
    assert statements(ledger) == one == 2


def test_what_this_desk_did_last_passes_over_what_others_did(ledger: Ledger) -> None:
    perform(ledger, add_site, NewSite("Sedge Holt"))
    ledger.desk = "honey room"
    settle(ledger, 2)
    with ledger.read() as session:
        found = last_act_of(session, "office")
        assert found is not None
        assert found.id == 1
        assert last_act_of(session, "van") is None


def test_a_row_tells_of_every_act_that_touched_it(ledger: Ledger) -> None:
    settle(ledger, 3)
    with ledger.read() as session:
        assert [line.id for line in acts_of_row(session, "farm_setting", 1)] == [3, 2, 1]


def test_the_changes_of_a_founding_name_the_site_and_the_hive(ledger: Ledger) -> None:
    yard(ledger, "Sedge Holt", "1041")
    with ledger.read() as session:
        total, changes = changes_of(session, 2)
    stood = next(change for change in changes if change.table == "placement")
    said = {field.field: (field.before, field.after) for field in stood.fields}
    assert total == len(changes) > 3
    assert stood.how == "added"
    assert said["site_id"] == (None, "Sedge Holt")
    assert said["colony_id"] == (None, "1041")
    assert next(change.name for change in changes if change.table == "hive_mark") == "1041"


def test_only_the_fields_that_changed_are_told(ledger: Ledger) -> None:
    settle(ledger, 2)
    with ledger.read() as session:
        total, (change,) = changes_of(session, 2)
    assert total == 1
    assert (change.how, change.name) == ("changed", "contact")
    assert [(field.field, field.before, field.after) for field in change.fields] == [
        ("value", '"01353 000000"', '"01353 000001"')
    ]


def test_an_act_that_changed_no_row_is_not_offered_to_be_taken_back(ledger: Ledger) -> None:
    done = perform(ledger, add_site, NewSite("Ash Lane"))
    perform(ledger, rebuild_all)
    with ledger.read() as session:
        last = last_act_of(session, ledger.desk)
    assert last is not None
    assert last.id == done.act
