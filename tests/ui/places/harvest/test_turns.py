"""What is typed at the scale, read turn by turn."""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.operations.honey import Filled
from beeledger.operations.honey_lots import Spent
from beeledger.operations.takes import Weighed
from beeledger.ui.places.harvest.acts import read_hives
from beeledger.ui.places.harvest.scale import sum_line
from beeledger.ui.places.harvest.turns import Turn, Wrong, extraction_of, next_name, read_turn, weighing_of

DAY = date(2026, 5, 14)


def test_a_turn_of_supers_is_full_less_empty() -> None:
    turn = read_turn({"tare": "5.6", "gross": "22.4"}, [], drums=False)
    assert turn.net_g == 16_800


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"tare": "5.6", "gross": ""}, "gross"),
        ({"tare": "", "gross": "22.4"}, "tare"),
        ({"tare": "22.4", "gross": "22.4"}, "gross"),
        ({"tare": "heavy", "gross": "22.4"}, "tare"),
        ({"tare": "-1", "gross": "22.4"}, "tare"),
        ({"tare": "5.6", "gross": "22.40001"}, "gross"),
    ],
)
def test_a_figure_that_cannot_be_is_said_beside_its_field(values: dict[str, str], field: str) -> None:
    with pytest.raises(Wrong) as wrong:
        read_turn(values, [], drums=False)
    assert wrong.value.field == field


def test_a_drum_is_named_once_and_read_by_the_refractometer() -> None:
    values = {"name": "drum 7", "tare": "14.3", "gross": "80.2", "index": "1.4915", "temperature": "20"}
    turn = read_turn(values, [], drums=True)
    # Chataway's table in Bogdanov, Book of Honey ch. 4: 1.4915 at 20 °C is 18.0 %.
    assert turn.moisture_hundredths == pytest.approx(1_800, abs=3)
    assert turn.read_words() == "1.4915 at 20.0 °C"
    with pytest.raises(Wrong, match="filled already"):
        read_turn(values, [turn], drums=True)
    with pytest.raises(Wrong) as wrong:
        read_turn(values | {"name": "drum 8", "index": "0.9"}, [turn], drums=True)
    assert wrong.value.field == "index"


def test_a_wet_drum_is_told_at_once_that_it_goes_on_hold_unless_it_is_heather() -> None:
    # SI 2015/1348 Sched. 1: 20 % of water, 23 % in honey of ling heather.
    values = {"name": "drum 7", "tare": "14.3", "gross": "80.2", "index": "1.4850"}
    assert "goes on hold" in read_turn(values, [], drums=True).odd
    assert read_turn(values, [], drums=True, honey_kind="ling_heather").odd == ""


def test_the_next_drum_has_the_next_number() -> None:
    assert (next_name("drum 114"), next_name("settling tank"), next_name("7")) == ("drum 115", "", "")


def test_turns_become_the_input_of_the_acts() -> None:
    turns = [Turn(31_500, 11_500, "drum 7", 149_150, 200), Turn(9_000, 1_000, "bucket 2")]
    assert weighing_of(3, DAY, turns).weighed == (Weighed(31_500, 11_500), Weighed(9_000, 1_000))
    new = extraction_of([4, 5], DAY, turns, 600, finish=True)
    assert new.filled == (
        Filled("drum 7", 31_500, 11_500, "drum", 149_150, 200),
        Filled("bucket 2", 9_000, 1_000, "bucket"),
    )
    assert (new.lot_ids, new.spent, new.finish) == ((4, 5), (Spent("wax", 600),), True)


def test_the_line_says_how_much_is_still_to_come_or_too_much() -> None:
    turns = [Turn(31_500, 11_500, "drum 7")]
    parts, words, met = sum_line(turns, 21_000, 600, drums=True)
    assert ([part.value for part in parts], words, met) == (["21.000", "20.000", "0.600", "0.400"], "", True)
    _, words, met = sum_line(turns, 20_000, 600, drums=True)
    assert (words, met) == ("0.600 kg too much", False)


def test_hives_are_typed_with_their_supers() -> None:
    assert read_hives("12:2, 14; 15×3, A7 2") == (("12", 2), ("14", 1), ("15", 3), ("A7", 2))
    for wrong in ("12:2:3", "12:0"):
        with pytest.raises(ValueError, match="12"):
            read_hives(wrong)
