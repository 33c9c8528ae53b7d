"""A nucleus put into a full hive stays the colony it was."""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.base.errors import Refused
from beeledger.database.checking.check import check_ledger
from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.colonies import Boxes, NewColony, end_colonies, found_colonies
from beeledger.operations.hiving import hive_up
from beeledger.operations.sites import NewSite, add_site
from beeledger.operations.undo import undo
from beeledger.queries.rounds import sheet_for

APRIL, MAY = date(2026, 4, 20), date(2026, 5, 10)
BOX = Boxes("National", 1, 6, "national_brood", 0, 10, excluder=False)


@pytest.fixture
def nucleus(ledger: Ledger) -> int:
    """A nucleus on six frames, number 12, and a full colony, number 13."""
    site = perform(ledger, add_site, NewSite("Teasel Piece")).result
    new = [NewColony("12", site, APRIL, kind="nucleus", boxes=BOX), NewColony("13", site, APRIL)]
    return int(perform(ledger, found_colonies, new).result[0])


def _there(ledger: Ledger, day: date) -> list[tuple[str | None, str, int]]:
    with ledger.read() as session:
        lines = sheet_for(session, 1, day).lines
    return [(line.mark, line.kind, line.boxes.brood_frames if line.boxes else 0) for line in lines]


def test_hived_up_it_has_the_farms_usual_boxes_from_that_day(ledger: Ledger, nucleus: int) -> None:
    done = perform(ledger, hive_up, [nucleus], MAY)
    assert done.sentence == "Hived up 1 nucleus, 10 May 2026"
    assert _there(ledger, MAY)[0] == ("12", "full", 11)
    assert _there(ledger, date(2026, 5, 9))[0][2] == 6
    assert check_ledger(ledger).findings == ()


def test_taken_back_it_is_a_nucleus_again(ledger: Ledger, nucleus: int) -> None:
    undo(ledger, perform(ledger, hive_up, [nucleus], MAY).act)
    assert _there(ledger, MAY)[0] == ("12", "nucleus", 6)


@pytest.mark.parametrize(
    ("colonies", "day", "what"),
    [
        ([0, 1], MAY, "hive 13 is a full colony already"),
        ([0], date(2026, 4, 19), "hive 12 was not there yet on 19 Apr 2026"),
        ([0], date(2026, 5, 15), "15 May 2026 has not come yet"),
        ([7], MAY, "there is no such colony"),
        ([], MAY, "there is no such colony"),
    ],
)
def test_what_cannot_be_is_refused(
    ledger: Ledger, nucleus: int, colonies: list[int], day: date, what: str
) -> None:
    with pytest.raises(Refused) as refused:
        perform(ledger, hive_up, [nucleus + step for step in colonies], day)
    assert what in [finding.what for finding in refused.value.findings]
    assert _there(ledger, MAY)[0][1] == "nucleus"


def test_one_that_has_ended_is_refused(ledger: Ledger, nucleus: int) -> None:
    perform(ledger, end_colonies, [nucleus], date(2026, 5, 1), "sold")
    with pytest.raises(Refused, match="has ended"):
        perform(ledger, hive_up, [nucleus], MAY)
