"""Visits of inspectors and samples: what was taken, and what came back."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta

import pytest

from beeledger.base.errors import Refused
from beeledger.database.ledger import Ledger
from beeledger.model.restrictions import Sample
from beeledger.operations.act import perform
from beeledger.operations.official import (
    NewSample,
    NewVisit,
    Result,
    record_result,
    record_sample,
    record_visit,
)
from beeledger.operations.parties import NewParty, add_party
from beeledger.operations.restrictions import NewRestriction, Release, impose_restriction, release_restriction
from beeledger.queries.restrictions import (
    in_force,
    official_of_site,
    restricted_by,
    restriction_choices,
    waiting_samples,
)
from beeledger.rules.restrictions import result_days
from tests.builders.yards import Yard, rows, sound, yard

CAME = date(2026, 4, 8)


@pytest.fixture
def long(sqlite_ledger: Ledger) -> Yard:
    return yard(sqlite_ledger, "Long Drove", "1", "2")


def field_refused(long: Yard, act: Callable[..., str], *given: object) -> set[str]:
    with pytest.raises(Refused) as caught:
        perform(long.ledger, act, *given)
    return {finding.where.field for finding in caught.value.findings}


def test_a_visit_its_sample_and_the_result_stand_on_the_card_of_the_site(long: Yard) -> None:
    visit = perform(long.ledger, record_visit, NewVisit(long.site, CAME, "M Okoro", "contact trace")).result
    new = NewSample(
        long.site, CAME, "comb of 8 × 8 cm", "comb", long.hives["2"], visit, "the laboratory", CAME
    )
    number = perform(long.ledger, record_sample, new).result
    perform(long.ledger, record_result, Result(number, date(2026, 4, 20), "clear", "no spores found"))
    with long.ledger.read() as session:
        shown = official_of_site(session, long.site, long.ledger.clock.now())
    assert [(one.inspector, one.purpose) for one in shown.visits] == [("M Okoro", "contact trace")]
    (sample,) = shown.samples
    assert (sample.mark, sample.outcome, sample.result, sample.result_on) == (
        "2", "clear", "no spores found", date(2026, 4, 20)
    )  # fmt: skip
    assert sound(long.ledger)


def test_a_result_is_put_right_by_writing_it_again(long: Yard) -> None:
    number = perform(long.ledger, record_sample, NewSample(long.site, CAME, "30 larvae", "larvae")).result
    for outcome in ("clear", "positive"):
        perform(long.ledger, record_result, Result(number, date(2026, 4, 20), outcome))
    assert [row.outcome for row in rows(long.ledger, Sample)] == ["positive"]


def test_what_says_too_little_or_comes_from_the_future_is_refused(long: Yard) -> None:
    tomorrow = long.ledger.clock.today() + timedelta(days=1)
    visit, sample = NewVisit(long.site, CAME, "M Okoro"), NewSample(long.site, CAME, "comb")
    assert field_refused(long, record_visit, replace(visit, inspector=" ")) == {"inspector"}
    assert field_refused(long, record_visit, replace(visit, on=tomorrow)) == {"on"}
    assert field_refused(long, record_sample, replace(sample, what="")) == {"what"}
    assert field_refused(long, record_sample, replace(sample, kind="honeycomb")) == {"kind"}
    assert field_refused(long, record_sample, replace(sample, visit_id=9)) == {"visit"}
    assert field_refused(long, record_sample, replace(sample, sent_on=CAME - timedelta(days=1))) == {
        "sent_on"
    }
    number = perform(long.ledger, record_sample, sample).result
    assert field_refused(long, record_result, Result(number, CAME - timedelta(days=1), "clear")) == {"on"}
    assert field_refused(long, record_result, Result(number, CAME, "unclear")) == {"outcome"}


def test_a_sample_without_a_result_is_asked_about_after_28_days(long: Yard) -> None:
    today = long.ledger.clock.today()
    # Common practice, no source: the rules file says so too.
    assert result_days() == 28
    for days in (28, 27):
        taken = today - timedelta(days=days)
        perform(long.ledger, record_sample, NewSample(long.site, taken, f"comb of {days} days ago"))
    with long.ledger.read() as session:
        assert [one.what for one in waiting_samples(session, today)] == ["comb of 28 days ago"]


def test_the_card_shows_what_is_in_force_before_what_is_over(long: Yard) -> None:
    perform(long.ledger, add_party, NewParty("The inspectorate", ("authority",)))
    old = NewRestriction(
        "European foul brood", CAME, site_id=long.site, by_whom="the inspectorate", reference="N 1"
    )
    number = perform(long.ledger, impose_restriction, old).result
    perform(long.ledger, release_restriction, Release(number, date(2026, 5, 2), "R 1"))
    new = replace(old, begins_on=date(2026, 5, 10), by_whom="M Okoro", expected_end_on=date(2026, 5, 11))
    perform(long.ledger, impose_restriction, new)
    now = long.ledger.clock.now()
    with long.ledger.read() as session:
        shown = official_of_site(session, long.site, now)
        assert restriction_choices(session).authorities == ("The inspectorate",)
        assert [line.id for line in in_force(session, now)] == [line.id for line in shown.in_force]
        assert restricted_by(session, long.site, now) == list(shown.in_force)
    assert [(one.by_whom, one.where) for one in shown.in_force] == [("M Okoro", "Long Drove")]
    assert [(one.by_whom, one.release_reference) for one in shown.past] == [("The inspectorate", "R 1")]
