"""The interpreter looks through everything only when nobody waits for it."""

from __future__ import annotations

import gc

import pytest

from beeledger.ui.frame import memory


@pytest.fixture
def as_before():
    before = gc.get_threshold()
    yield
    gc.unfreeze()
    gc.set_threshold(*before)


def test_what_stands_is_set_aside_and_what_is_new_is_still_let_go(as_before):
    memory.settle_in()
    assert gc.get_freeze_count() > 1_000
    assert gc.get_threshold()[2] > 100_000  # the whole is never looked through of itself
    ring: list[object] = []
    ring.append(ring)
    del ring
    before = gc.get_stats()[2]["collected"]
    memory.tidy()
    assert gc.get_stats()[2]["collected"] > before
    memory.move_out()
    assert (gc.get_freeze_count(), gc.get_threshold()[2]) == (0, 10)


def test_without_a_window_nothing_is_set_aside(as_before):
    frozen = gc.get_freeze_count()
    memory.keep()
    memory.tidy()
    assert gc.get_freeze_count() == frozen
