"""Two windows at one ledger for ten seconds: whatever the desks do, nothing is lost and each sees the other's acts."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from tests.whole.two_desks_long import ALLOWED_S, Outcome, part, said, two_desks


@pytest.mark.timeout(200)
def test_two_desks_do_anything_for_ten_seconds_and_nothing_is_lost(new_target: Callable[..., str]) -> None:
    outcome = two_desks(new_target("postgresql"), 10, pause_ms=150)
    assert outcome.faults == []
    assert outcome.breaches == []
    assert outcome.lost() == {}, said(outcome)
    assert set(outcome.history) == set(outcome.done)  # nothing was done that no desk was told of
    assert outcome.silent == 0
    assert outcome.tried == len(outcome.done) + outcome.refused.total()
    assert {desk for desk, _kind in outcome.done.values()} == {"office", "kitchen"}
    assert len({kind for _desk, kind in outcome.done.values()}) >= 2
    assert part(outcome.heard_s, 0.5) <= ALLOWED_S, said(outcome)


def test_an_act_that_is_missing_or_another_desks_is_called_lost() -> None:
    outcome = Outcome(done={7: ("office", "add_site"), 8: ("kitchen", "undo"), 9: ("office", "undo")})
    outcome.history = {7: ("office", "add_site"), 8: ("office", "undo")}
    assert outcome.lost() == {8: ("kitchen", "undo"), 9: ("office", "undo")}
