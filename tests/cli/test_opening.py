"""Which ledger the window opens, and on which day."""

from __future__ import annotations

from pathlib import Path

import pytest

from beeledger.base.clock import Clock, FarmClock
from beeledger.base.paths import settings_file
from beeledger.base.settings import DeskSettings, save_settings
from beeledger.sample import Scenario, read_scenario
from tests.cli.commanding import Shell


@pytest.fixture
def windows(monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, Clock]]:
    """The windows that were opened, in place of showing them."""
    opened: list[tuple[str, Clock]] = []

    def run_window(target: str, clock: Clock) -> int:
        opened.append((target, clock))
        return 0

    monkeypatch.setattr("beeledger.ui.frame.app.run_window", run_window)
    return opened


def test_the_ledger_named_is_opened_today(shell: Shell, windows: list[tuple[str, Clock]]) -> None:
    assert shell("open", "farm.beeledger").code == 0
    ((target, clock),) = windows
    assert target == "farm.beeledger"
    assert isinstance(clock, FarmClock)


def test_without_a_name_the_last_one_of_this_desk(shell: Shell, windows: list[tuple[str, Clock]]) -> None:
    save_settings(settings_file(), DeskSettings(ledger="last.beeledger"))
    assert shell("open", "--json").data == {"ledger": "last.beeledger", "exit": 0}
    assert [target for target, _ in windows] == ["last.beeledger"]


def test_at_a_new_desk_a_new_ledger(
    shell: Shell, windows: list[tuple[str, Clock]], desk_folder: Path
) -> None:
    assert shell().code == 0
    assert windows[0][0] == str(desk_folder / "farm.beeledger")


def test_a_copy_of_the_sample_lives_on_its_own_evening(
    shell: Shell, windows: list[tuple[str, Clock]], desk_folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def small(**_sizes: int | None) -> Scenario:
        return read_scenario(colonies=5, sites=1, seasons=1)

    monkeypatch.setattr("beeledger.sample.read_scenario", small)
    assert shell("open", "--sample-copy").code == 0
    ((target, clock),) = windows
    assert target == str(desk_folder / "sample copy.beeledger")
    assert Path(target).exists()
    assert f"{clock.today()}" == "2026-05-14"
    first = clock.now()
    assert (clock.now() - first).total_seconds() < 60, "and its time goes on"
