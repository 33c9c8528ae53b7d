"""The sample farm as it was lived: sound, the same again by the same seed, and like a farm."""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from statistics import mean
from typing import Any

import pytest
from sqlalchemy import text

from beeledger.base.clock import FixedClock
from beeledger.database.checking.check import check_ledger
from beeledger.database.ledger import Ledger
from beeledger.database.opening import open_ledger
from beeledger.queries.contract_list import list_contracts
from beeledger.queries.due import due_by_site
from beeledger.queries.honey import season_balance
from beeledger.queries.labels import batch_card, batches
from beeledger.queries.pedigrees import list_grafts, pedigree_of
from beeledger.queries.queens import list_queens
from beeledger.queries.restrictions import in_force, official_of_site
from beeledger.sample import build_sample, read_scenario
from tests.builders.sample_farm import COLONIES, EVENING, build

_LIFE = {
    "rounds": 'SELECT uid, site_id, "on", crew, weather FROM round ORDER BY id',
    "entries": "SELECT colony_id, seq, outcome, brood_tenths, bees_tenths, feed_ml, mites_count FROM round_entry ORDER BY id",
    "colonies": "SELECT founded_on, founded_how, ended_on, end_cause FROM colony ORDER BY id",
    "honey": 'SELECT "on", from_lot_id, to_lot_id, sink, grams FROM honey_transfer ORDER BY id',
    "moves": 'SELECT on_, n FROM (SELECT m.id, m."on" AS on_, count(*) AS n FROM move m JOIN move_line l ON l.move_id = m.id GROUP BY m.id) ORDER BY id',
}


def _rows(ledger: Ledger, query: str) -> list[tuple[Any, ...]]:
    with ledger.read() as session:
        return [tuple(row) for row in session.execute(text(query))]


def test_every_line_of_always_true_holds(sample_ledger: Ledger) -> None:
    report = check_ledger(sample_ledger)
    assert report.findings == ()
    assert len(report.lines) >= 10


def test_it_ends_on_its_evening_with_about_as_many_colonies_as_were_asked_for(sample_ledger: Ledger) -> None:
    ((alive,),) = _rows(sample_ledger, "SELECT count(*) FROM colony WHERE ended_on IS NULL")
    ((last,),) = _rows(sample_ledger, 'SELECT max("on") FROM act')
    assert 0.85 * COLONIES <= alive <= 1.1 * COLONIES
    assert last == "2026-05-14"


def test_the_same_seed_gives_the_same_farm_and_another_seed_another(
    sample_ledger: Ledger, tmp_path: Path
) -> None:
    same, other = tmp_path / "same.beeledger", tmp_path / "other.beeledger"
    build(str(same))
    build(str(other), seed=7)
    for name, query in _LIFE.items():
        first = _rows(sample_ledger, query)
        for file, alike in ((same, True), (other, False)):
            ledger = open_ledger(file, FixedClock(EVENING))
            assert (_rows(ledger, query) == first) is alike, name
            ledger.close()


def test_every_act_was_carried_out_as_the_office_would(sample_ledger: Ledger) -> None:
    kinds = Counter(kind for (kind,) in _rows(sample_ledger, "SELECT kind FROM act"))
    expected = {
        "set_farm", "add_site", "found_colonies", "post_round", "hive_up", "put_queen", "add_contract", "post_move",
        "record_bloom", "record_strength_check", "close_contract", "weigh_take", "extract_run", "blend", "read_lot",
        "jar_batch", "weigh_jars", "print_labels", "post_dispatch", "add_crew_member", "add_medicine", "rebuild_all",
    }  # fmt: skip
    assert expected <= set(kinds)
    assert kinds["post_round"] > 80
    assert kinds["rebuild_all"] == 1


def test_brood_comes_and_goes_with_the_year(sample_ledger: Ledger) -> None:
    rows = _rows(
        sample_ledger,
        'SELECT CAST(substr(e."on", 6, 2) AS INTEGER), e.brood_tenths FROM round_entry e JOIN colony c ON'
        " c.id = e.colony_id WHERE e.brood_tenths IS NOT NULL AND c.founded_how = 'opening'",
    )
    by_month: dict[int, list[int]] = {}
    for month, brood in rows:
        by_month.setdefault(month, []).append(brood)
    means = {month: mean(found) for month, found in by_month.items()}
    assert means[3] < means[4] < means[5]
    assert means[5] > means[9]
    assert max(max(found) for found in by_month.values()) <= 110


def test_sugar_is_fed_in_autumn_and_strips_go_in_and_come_out(sample_ledger: Ledger) -> None:
    fed = _rows(sample_ledger, 'SELECT substr("on", 6, 2), sum(volume_ml) FROM feeding GROUP BY 1')
    litres = {month: (ml or 0) / 1000 for month, ml in fed}
    assert litres.get("08", 0) + litres.get("09", 0) > 0.7 * sum(litres.values())
    courses = _rows(
        sample_ledger,
        "SELECT julianday(out_on) - julianday(in_on) FROM treatment WHERE out_on IS NOT NULL",
    )
    assert courses
    assert all(42 <= days <= 75 for (days,) in courses)


def test_some_colonies_die_in_winter_each_with_a_cause_and_most_live(sample_ledger: Ledger) -> None:
    # Published surveys of winter losses find from 5 to 30 % of colonies lost (COLOSS, Brodschneider et al. 2018).
    ((wintered,),) = _rows(
        sample_ledger,
        "SELECT count(*) FROM colony WHERE founded_on < '2025-10-01' AND (ended_on IS NULL OR ended_on > '2025-10-01')",
    )
    lost = _rows(
        sample_ledger,
        "SELECT end_cause FROM colony WHERE ended_on BETWEEN '2025-10-01' AND '2026-04-30' AND end_cause NOT IN"
        " ('sold', 'united')",
    )
    assert 0.02 * wintered < len(lost) < 0.35 * wintered


def test_queens_are_marked_by_the_colour_of_their_year(sample_ledger: Ledger) -> None:
    # International code by the last digit of the year: 3, 8 red; 4, 9 green; 5, 0 blue (trade-wide, from memory).
    seen = _rows(
        sample_ledger,
        "SELECT e.queen_colour, q.hatch_year FROM round_entry e JOIN tenure t ON t.colony_id = e.colony_id AND"
        ' t.from_on <= e."on" AND (t.until_on IS NULL OR t.until_on > e."on") JOIN queen q ON q.id = t.queen_id'
        " WHERE e.queen_colour NOT IN ('unmarked')",
    )
    colours = {3: "red", 4: "green", 5: "blue", 6: "white", 2: "yellow"}
    assert len(seen) > 50
    assert {colour for colour, year in seen if colour != colours[year % 10]} == set()


def test_the_honey_balances_and_each_jar_leads_back_to_its_sites(sample_ledger: Ledger) -> None:
    with sample_ledger.read() as session:
        balance = season_balance(session, sample_ledger.clock.today().replace(month=1, day=1))
        cards = [batch_card(session, line.id) for line in batches(session)]
    assert balance.difference_g == 0
    assert cards
    for card in cards:
        assert card is not None
        assert card.sources
        assert sum(source.grams for source in card.sources) == card.drawn_g
        assert len(card.net_tenths) == min(50, card.line.jars)


def test_on_its_evening_hives_stand_on_a_crop_sites_are_due_and_supers_wait(sample_ledger: Ledger) -> None:
    today = sample_ledger.clock.today()
    with sample_ledger.read() as session:
        due = due_by_site(session, today)
        here = [row for row in list_contracts(session, today) if row.here]
    assert due
    assert [row.name for row in here] == ["Long Acre rape 2026"]
    assert here[0].terms.off == today


def test_the_clock_of_the_ledger_is_given_back_and_a_crash_while_building_too(tmp_path: Path) -> None:
    class Stop(Exception):
        pass

    def stop(passed: int, _total: int) -> None:
        if passed == 3:
            raise Stop

    clock = FixedClock(EVENING)
    ledger = open_ledger(tmp_path / "farm.beeledger", clock)
    with pytest.raises(Stop):
        build_sample(ledger, read_scenario(colonies=5, sites=1, seasons=1), progress=stop)
    assert ledger.clock is clock
    assert _rows(ledger, "PRAGMA synchronous") == [(2,)], "acts wait for the disk again (2 is FULL)"
    ledger.close()


def test_queens_bear_tags_and_go_back_to_the_mothers_of_their_lines(sample_ledger: Ledger) -> None:
    with sample_ledger.read() as session:
        queens = list_queens(session)
        tagged = [one for one in queens if one.tag]
        drawn = pedigree_of(session, next(one.queen_id for one in tagged if one.dam_id is not None))
        grafts = list_grafts(session)
    assert len(tagged) > len(queens) // 6
    assert all(
        one.year is not None and one.tag.startswith(f"{one.year % 100:02}-") for one in tagged if one.tag
    )
    assert drawn is not None
    assert [bool(box.queen_ids) for box in drawn.boxes[:3]] == [True, True, True]
    assert len(grafts) >= 2
    for graft in grafts:
        counts = [graft.grafted, graft.taken, graft.sealed, graft.emerged, graft.mated]
        known = [number for number in counts if number is not None]
        assert known == sorted(known, reverse=True)
        assert graft.finisher_id is not None


def test_last_autumn_a_site_was_restricted_visited_sampled_and_released(sample_ledger: Ledger) -> None:
    with sample_ledger.read() as session:
        assert in_force(session, sample_ledger.clock.now()) == []
        ((site,),) = _rows(sample_ledger, "SELECT site_id FROM restriction")
        shown = official_of_site(session, site, sample_ledger.clock.now())
    assert [line.release_reference for line in shown.past] == ["BI/R 118"]
    assert [(len(shown.visits), sample.outcome) for sample in shown.samples] == [(1, "clear")]


def test_four_seasons_are_each_as_full_as_the_one_before_and_the_honey_does_not_pile_up(
    tmp_path: Path,
) -> None:
    ledger = open_ledger(tmp_path / "long.beeledger", FixedClock(EVENING))
    build_sample(ledger, read_scenario(colonies=20, sites=2, seasons=4), seed=7)
    entries = dict(
        _rows(ledger, 'SELECT CAST(substr("on", 1, 4) AS INTEGER), count(*) FROM round_entry GROUP BY 1')
    )
    whole = [entries[year] for year in range(2024, 2026)]
    ((alive,),) = _rows(ledger, "SELECT count(*) FROM colony WHERE ended_on IS NULL")
    waiting = _rows(
        ledger,
        "SELECT l.id FROM honey_lot l WHERE l.kind = 'drum' AND l.opened_on < '2025' AND NOT EXISTS"
        " (SELECT 1 FROM honey_transfer t WHERE t.from_lot_id = l.id)",
    )
    report = check_ledger(ledger)
    ledger.close()
    assert report.findings == ()
    assert min(entries) == 2023
    assert max(whole) < 1.4 * min(whole)
    assert 0.7 * 20 <= alive <= 1.1 * 20
    assert len(waiting) <= 2
