"""The office without a screen: the daily jobs on a copy of the sample, and a picture of every place."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication

from beeledger.cli.main import main
from beeledger.sample import Scenario, read_scenario
from beeledger.ui.frame.pictures import SIZE
from beeledger.ui.frame.registry import PLACES


def _small(**_sizes: int | None) -> Scenario:
    return read_scenario(colonies=40, sites=6, seasons=2)


def test_headless_does_the_jobs_and_pictures_every_place(
    qapp: QApplication, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("beeledger.sample.read_scenario", _small)
    assert main(["headless", "--out", str(tmp_path / "out"), "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["check"] == "clean"
    files = [Path(name) for name in answer["files"]]
    assert all(file.stat().st_size > 1_000 for file in files)
    pictures = [file for file in files if file.suffix == ".png"]
    assert [file.name.split()[1] for file in pictures] == [place.key for place in PLACES]
    for file in pictures:
        picture = QImage(str(file))
        assert (picture.width(), picture.height()) == SIZE
        colours = {picture.pixel(x, y) for x in range(0, SIZE[0], 7) for y in range(0, SIZE[1], 7)}
        assert len(colours) > 20, f"{file.name} is as good as empty"
