"""Whatever is done in whatever order, every line of what must always hold stays true, and all can be taken back.

A few seconds in the suite; BEELEDGER_HYPOTHESIS=night looks for longer and for new farms.
"""

from __future__ import annotations

import os

import pytest
from hypothesis import HealthCheck, settings
from hypothesis.stateful import run_state_machine_as_test

from tests.whole.colony_machine import FarmOfColonies

NIGHT = os.environ.get("BEELEDGER_HYPOTHESIS") == "night"
pytestmark = pytest.mark.timeout(0 if NIGHT else 120)


@pytest.mark.timeout(0 if NIGHT else 300)  # a busy computer is no fault of the farm
def test_a_farm_to_which_anything_happens_stays_whole() -> None:
    run_state_machine_as_test(
        FarmOfColonies,
        settings=settings(
            max_examples=400 if NIGHT else 4,
            stateful_step_count=40 if NIGHT else 12,
            deadline=None,
            derandomize=not NIGHT,
            database=None,
            suppress_health_check=list(HealthCheck),
        ),
    )
