"""The fields of a licence come when something would leave a restricted place, wherever it is typed, and not before."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from beeledger.database.ledger import Ledger
from beeledger.model.honey import Take
from beeledger.model.restrictions import LicenceUse
from beeledger.operations.act import perform
from beeledger.operations.restrictions import GONE, NewRestriction, impose_restriction
from beeledger.ui.widgets.marks import Mark
from tests.builders.yards import Yard, rows, sound, yard
from tests.operations import honey_room
from tests.operations.trips import farm
from tests.ui.places.sitting import Seat, seated

CTRL = Qt.KeyboardModifier.ControlModifier
BEGAN = date(2026, 5, 2)


def impose(ledger: Ledger, site: int) -> None:
    new = NewRestriction("foul brood suspected", BEGAN, site_id=site, accepted=frozenset({GONE}))
    perform(ledger, impose_restriction, new)


def press(seat: Seat) -> Any:
    """Ctrl+Enter; the form, if it is still there."""
    QTest.keyClick(seat.place.side.form(), Qt.Key.Key_Return, CTRL)
    seat.settle()
    return seat.place.side.form()


def typed_in(form: Any, words: str, field: str = "licence") -> None:
    assert form.fields[field].isVisible()
    form.fields[field].setFocus()
    QTest.keyClicks(form.fields[field].editor, words)


def test_a_move_out_asks_for_the_licence_while_it_is_typed(
    sqlite_ledger: Ledger, qtbot: Any, tmp_path: Path
) -> None:
    there = farm(sqlite_ledger)
    impose(sqlite_ledger, there.sites["Home Yard"])
    with seated(sqlite_ledger, "moves", qtbot, tmp_path) as seat:
        seat.place.new()
        seat.settle()
        form = seat.place.side.form()
        assert not form.fields["licence"].isVisible()
        form.set_values(
            {"from": str(there.sites["Home Yard"]), "to": str(there.sites["Ladder Hill"]), "on": "13 May", "loaded": "21:15", "unloaded": "22:00", "hives": "1, 2"}
        )  # fmt: skip
        form.changed.emit(form.values())
        seat.settle()
        assert "no hives out of Home Yard" in form.fields["licence"].message()
        assert press(seat) is form
        typed_in(form, "L 12/26")
        seat.settle()
        assert press(seat) is None
    assert [use.licence for use in rows(sqlite_ledger, LicenceUse)] == ["L 12/26"]
    assert sound(sqlite_ledger)


def test_a_take_asks_for_the_licence_when_it_is_written(
    sqlite_ledger: Ledger, qtbot: Any, tmp_path: Path
) -> None:
    site, _ = honey_room.farm(sqlite_ledger)
    impose(sqlite_ledger, site)
    with seated(sqlite_ledger, "harvest", qtbot, tmp_path) as seat:
        seat.place.take()
        seat.settle()
        form = seat.place.side.form()
        form.set_values({"site": str(site), "on": "13 May", "whole": "2"})
        assert not form.fields["licence"].isVisible()
        assert press(seat) is form
        assert "no supers out of Long Drove" in form.fields["licence"].message()
        assert press(seat) is form
        assert rows(sqlite_ledger, Take) == []
        typed_in(form, "L 3")
        form.set_values({"licence_by": "M Okoro", "licence_on": "12 May"})
        assert press(seat) is None
    (use,) = rows(sqlite_ledger, LicenceUse)
    assert (use.licence, use.issued_by, use.issued_on) == ("L 3", "M Okoro", date(2026, 5, 12))
    assert sound(sqlite_ledger)


@pytest.fixture
def long(sqlite_ledger: Ledger) -> Yard:
    place = yard(sqlite_ledger, "Long Drove", "3", "7")
    yard(sqlite_ledger, "Low Dyke", "31")
    impose(sqlite_ledger, place.site)
    return place


def test_a_frame_given_elsewhere_asks_for_it_and_the_hive_says_why(
    long: Yard, qtbot: Any, tmp_path: Path
) -> None:
    with seated(long.ledger, "colonies", qtbot, tmp_path) as seat:
        seat.place.table.choose([long.hives["3"]])
        seat.settle()
        (fact,) = seat.place.card.force.facts()
        assert (fact.name, fact.mark) == ("Restricted since 2 May: foul brood suspected", Mark.HELD)
        seat.place.work.act("give")()
        seat.settle()
        form = seat.place.side.form()
        form.set_values({"to": "31", "brood": "1"})
        assert not form.fields["reason"].isVisible()
        press(seat)
        press(seat)
        typed_in(form, "L 6", "reason")
        press(seat)
        if seat.place.side.form() is not None:
            press(seat)  # what stood apart is asked about anew, for the form was changed
            press(seat)
    assert [use.licence for use in rows(long.ledger, LicenceUse)] == ["L 6"]
    assert sound(long.ledger)
