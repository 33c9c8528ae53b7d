"""Taking back: the ledger as it was, or a refusal with the names of what stands on the act."""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.base.errors import Refused
from beeledger.database.audit import OpenAct
from beeledger.database.checking.check import check_ledger
from beeledger.database.ledger import Ledger
from beeledger.database.opening import open_ledger
from beeledger.model.colonies import Colony, HiveMark
from beeledger.model.due import Due
from beeledger.model.parties import PartyContact
from beeledger.model.queens import Queen
from beeledger.model.sites import Site
from beeledger.operations.act import Done, perform
from beeledger.operations.colonies import end_colonies, found_colonies, hives_at
from beeledger.operations.parties import NewParty, add_party
from beeledger.operations.sites import NewSite, add_site, change_site, close_site
from beeledger.operations.undo import is_undone, standing_on, undo, why_not
from tests.builders.filled import whole_farm
from tests.builders.yards import DAY, LOOKED, SPRING, rows, whole, yard


def refused(ledger: Ledger, act: int) -> str:
    with pytest.raises(Refused) as caught:
        undo(ledger, act)
    (finding,) = caught.value.findings
    with ledger.read() as session:
        told = why_not(session, act)
    assert not told or told == [finding]  # what the window greys out by is what the act says
    return finding.what


def test_a_whole_season_is_taken_back_act_by_act_and_brought_again(ledger: Ledger) -> None:
    empty = whole(ledger)
    whole_farm(ledger)
    full = whole(ledger)
    last = ledger.last_act()
    for act in range(last, 0, -1):
        undo(ledger, act)
    assert whole(ledger) == empty
    assert check_ledger(ledger).clean
    for act in range(ledger.last_act(), last, -1):  # redo: take back each taking back, the last first
        undo(ledger, act)
    assert without_private(whole(ledger)) == without_private(full)
    assert check_ledger(ledger).clean


def without_private(said: dict[str, list[object]]) -> dict[str, list[object]]:
    """All but what History never copied and so cannot bring back."""
    return {table: lines for table, lines in said.items() if table != PartyContact.__tablename__}


def test_each_state_on_the_way_back_is_the_state_there_was(ledger: Ledger) -> None:
    states = [whole(ledger)]
    site = perform(ledger, add_site, NewSite("Long Drove", capacity=20)).result
    states.append(whole(ledger))
    perform(ledger, change_site, site, NewSite("Long Drove", capacity=24))
    states.append(whole(ledger))
    ids = perform(ledger, found_colonies, hives_at(site, SPRING, ["1", "2"], queen_year=2025)).result
    states.append(whole(ledger))
    perform(ledger, end_colonies, ids[:1], DAY, "starvation")
    for act in (4, 3, 2, 1):
        undo(ledger, act)
        assert whole(ledger) == states.pop()


def test_the_line_in_history_says_what_was_taken_back(ledger: Ledger) -> None:
    done = perform(ledger, add_site, NewSite("Long Drove"))
    back = undo(ledger, done.act)
    assert back.sentence == "Took back: Added the site Long Drove"
    assert back.kind == "undo"
    assert back.touched == {"site"}
    with ledger.read() as session:
        assert is_undone(session, done.act)


def test_taking_back_twice_is_refused_and_bringing_again_is_taking_back_the_taking_back(
    ledger: Ledger,
) -> None:
    done = perform(ledger, add_site, NewSite("Long Drove"))
    with_site = whole(ledger)
    back = undo(ledger, done.act)
    assert refused(ledger, done.act) == "“Added the site Long Drove” has been taken back already"
    again = undo(ledger, back.act)
    assert whole(ledger) == with_site
    third = undo(ledger, again.act)
    assert rows(ledger, Site) == []
    undo(ledger, third.act)
    assert whole(ledger) == with_site
    undo(ledger, done.act)  # brought again, it can be taken back once more
    assert rows(ledger, Site) == []
    assert check_ledger(ledger).clean


def test_there_is_no_such_act(ledger: Ledger) -> None:
    assert refused(ledger, 99) == "There is no such act"


def test_what_a_later_act_changed_stands_on_the_earlier_one(ledger: Ledger) -> None:
    site = perform(ledger, add_site, NewSite("Long Drove", capacity=20))
    first = perform(ledger, change_site, site.result, NewSite("Long Drove", capacity=24))
    second = perform(ledger, change_site, site.result, NewSite("Long Drove", capacity=26))
    assert refused(ledger, first.act) == "On it stands “Changed the site Long Drove (office, 14 May 2026)”"
    with ledger.read() as session:
        assert [act.id for act in standing_on(session, site.act)] == [second.act, first.act]
    undo(ledger, second.act)
    undo(ledger, first.act)  # what was itself taken back does not count any more
    assert rows(ledger, Site)[0].capacity == 20
    assert check_ledger(ledger).clean


def test_more_than_three_acts_are_counted(ledger: Ledger) -> None:
    site = perform(ledger, add_site, NewSite("Long Drove"))
    for capacity in range(5):
        perform(ledger, change_site, site.result, NewSite("Long Drove", capacity=capacity))
    assert refused(ledger, site.act).endswith("and 2 more")


def test_what_points_at_a_row_stands_on_the_act_that_made_it(ledger: Ledger) -> None:
    site = perform(ledger, add_site, NewSite("Long Drove"))
    perform(ledger, found_colonies, hives_at(site.result, SPRING, ["1", "2"]))
    before = whole(ledger)
    assert refused(ledger, site.act) == "On it stands “Founded 2 colonies at Long Drove”"
    assert whole(ledger) == before
    assert check_ledger(ledger).clean


def test_hives_that_were_looked_at_cannot_be_taken_back_before_the_round(ledger: Ledger) -> None:
    drove = yard(ledger, "Long Drove", "1", "2")
    done = drove.post(h1=LOOKED)
    assert "Posted round, Long Drove" in refused(ledger, 2)
    undo(ledger, done.act)
    undo(ledger, 2)
    assert rows(ledger, Colony) == []


def test_a_number_given_again_meanwhile_is_not_taken_back(ledger: Ledger) -> None:
    drove = yard(ledger, "Long Drove", "1", "2")
    ended = perform(ledger, end_colonies, [drove.hives["1"]], DAY, "starvation")
    perform(ledger, found_colonies, hives_at(drove.site, DAY, ["1"]))
    assert refused(ledger, ended.act)  # the number 1 is on a new hive now
    assert check_ledger(ledger).clean
    assert [mark.mark for mark in rows(ledger, HiveMark) if mark.until_on is None] == ["2", "1"]


def test_a_number_of_a_row_that_came_anew_is_not_mistaken_for_the_old_one(ledger: Ledger) -> None:
    first = perform(ledger, add_site, NewSite("Long Drove"))
    back = undo(ledger, first.act)
    second = perform(ledger, add_site, NewSite("Far Drove"))  # a file may give it the same number
    if second.result == first.result:
        assert "Far Drove" in refused(ledger, back.act)
        undo(ledger, second.act)
    undo(ledger, back.act)
    assert "Long Drove" in [site.name for site in rows(ledger, Site)]
    assert check_ledger(ledger).clean


def test_queens_written_in_one_act_go_and_come_back_with_their_dams(ledger: Ledger) -> None:
    def family(act: OpenAct) -> str:
        dam = Queen(tag="dam", hatch_year=2024)
        act.session.add(dam)
        act.session.flush()
        daughters = [Queen(tag=f"d{number}", hatch_year=2025, dam_id=dam.id) for number in range(3)]
        act.session.add_all(daughters)
        act.session.flush()
        act.session.add(Queen(tag="old dam", hatch_year=2022))
        act.session.flush()
        dam.dam_id = act.session.query(Queen).filter_by(tag="old dam").one().id
        return "A family"

    before = whole(ledger)
    done = perform(ledger, family)
    after = whole(ledger)
    back = undo(ledger, done.act)
    assert whole(ledger) == before
    undo(ledger, back.act)
    assert whole(ledger) == after
    assert check_ledger(ledger).clean


def test_a_site_given_up_for_a_new_one_of_its_name_comes_back_under_its_name(ledger: Ledger) -> None:
    old = perform(ledger, add_site, NewSite("Long Drove")).result

    def replace(act: OpenAct) -> str:
        close_site(act, old, DAY)
        act.session.flush()
        return add_site(act, NewSite("Long Drove"))

    before = whole(ledger)
    done = perform(ledger, replace)
    undo(ledger, done.act)
    assert whole(ledger) == before


def test_an_import_of_many_hives_is_taken_back_in_portions(ledger: Ledger) -> None:
    before = whole(ledger)
    marks = [str(number) for number in range(1, 401)]
    drove = yard(ledger, "Long Drove", *marks)
    undo(ledger, 2)
    assert rows(ledger, Colony) == []
    undo(ledger, 1)
    assert whole(ledger) == before
    assert drove.site


def test_what_identifies_a_person_is_not_brought_again(ledger: Ledger) -> None:
    # History never copies it, so that an erasure is one; the row comes back empty.
    done = perform(ledger, add_party, NewParty("Ladder Hill Fruit", ("grower",), phone="01234 567"))
    back = undo(ledger, done.act)
    undo(ledger, back.act)
    assert [contact.phone for contact in rows(ledger, PartyContact)] == [None]
    assert check_ledger(ledger).clean


def test_a_refused_taking_back_leaves_no_act(ledger: Ledger) -> None:
    site = perform(ledger, add_site, NewSite("Long Drove"))
    done: Done = perform(ledger, found_colonies, hives_at(site.result, SPRING, ["1"]))
    refused(ledger, site.act)
    assert ledger.last_act() == done.act


def test_one_desk_takes_back_what_another_did(ledger: Ledger) -> None:
    other = open_ledger(ledger.target, ledger.clock, who="Mair", desk="honey room")
    done = perform(other, add_site, NewSite("Long Drove"))
    back = undo(ledger, done.act)
    with pytest.raises(Refused, match="taken back already"):
        undo(other, done.act)
    perform(other, add_site, NewSite("Long Drove"))
    with pytest.raises(Refused):
        undo(ledger, back.act)  # the name is on another site now
    assert check_ledger(other).clean
    other.close()


def test_what_is_due_follows_what_was_taken_back(ledger: Ledger) -> None:
    drove = yard(ledger, "Long Drove", "1", "2", on=date(2026, 3, 1))
    with_hives = whole(ledger)["due"]
    done = drove.post(h1=LOOKED)
    assert whole(ledger)["due"] != with_hives
    undo(ledger, done.act)
    assert whole(ledger)["due"] == with_hives
    undo(ledger, 2)
    assert rows(ledger, Due) == []
