"""The sample farm built from the command line, and the copies of it that the window opens."""

from __future__ import annotations

from pathlib import Path

import pytest

from beeledger.cli import sampling
from beeledger.sample import Scenario, read_scenario
from tests.cli.commanding import Shell

SMALL = ("--colonies", 6, "--sites", 2, "--years", 1, "--json")


def test_a_sample_of_any_size_is_built_into_an_empty_ledger(shell: Shell, tmp_path: Path) -> None:
    file = tmp_path / "sample.beeledger"
    answer = shell("sample", "--into", file, *SMALL)
    assert answer.code == 0
    assert answer.data["sites"] == 2
    assert answer.data["today"] == "2026-05-14"
    assert answer.data["rounds"] > 3
    assert shell("check", file).code == 0


def test_a_ledger_in_use_is_left_alone(shell: Shell, sample_file: Path) -> None:
    before = sample_file.read_bytes()
    answer = shell("sample", "--into", sample_file, *SMALL)
    assert answer.code == 1
    assert "This ledger is in use." in answer.err
    assert sample_file.read_bytes() == before


def test_a_farm_of_no_colonies_is_not_built(shell: Shell, tmp_path: Path) -> None:
    file = tmp_path / "sample.beeledger"
    answer = shell("sample", "--into", file, "--colonies", 0)
    assert answer.code == 1
    assert "A farm has a colony, a site and a season at least." in answer.err
    assert not file.exists()


def test_the_kept_sample_is_built_once_and_each_copy_is_fresh(
    desk_folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    built: list[int] = []

    def small(**_sizes: int | None) -> Scenario:
        built.append(1)
        return read_scenario(colonies=5, sites=1, seasons=1)

    monkeypatch.setattr("beeledger.sample.read_scenario", small)
    first, clock = sampling.sample_copy(tmp_path)
    kept = next(desk_folder.glob("sample *.beeledger"))
    moment = kept.stat().st_mtime_ns
    first.write_bytes(b"spoiled")
    second, _ = sampling.sample_copy(tmp_path)
    assert second.read_bytes() == kept.read_bytes()
    assert kept.stat().st_mtime_ns == moment, "built once"
    assert f"{clock.today()}" == "2026-05-14"
