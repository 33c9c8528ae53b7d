"""Times of day in the forms crews write them."""

from __future__ import annotations

import pytest

from beeledger.base.times import clock_words, read_minute


@pytest.mark.parametrize(
    ("typed", "minute"),
    [
        ("20:30", 1230), ("2030", 1230), ("20.30", 1230), ("8.30 pm", 1230), ("8:30PM", 1230), ("20h30", 1230),
        ("21", 1260), ("9 am", 540), ("12 am", 0), ("12pm", 720), ("0:05", 5), ("005", 5), ("23:59", 1439),
    ],
)  # fmt: skip
def test_a_time_is_read_in_every_usual_form(typed: str, minute: int) -> None:
    assert read_minute(typed) == minute


@pytest.mark.parametrize("typed", ["", "24:00", "12:60", "13 pm", "0 am", "late", "20:3", "1:2:3", "-5"])
def test_what_is_no_time_is_refused_with_a_sentence(typed: str) -> None:
    with pytest.raises(ValueError, match=r"no time of day|there is no"):
        read_minute(typed)


def test_a_time_is_written_with_two_figures_each() -> None:
    assert [clock_words(minute) for minute in (0, 5, 1230)] == ["00:00", "00:05", "20:30"]
