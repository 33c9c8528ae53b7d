"""What a desk has settled for itself survives, and a spoilt file costs no more than the settings."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from beeledger.base.paths import free_name, settings_file
from beeledger.base.settings import DeskSettings, load_settings, save_settings


def test_settings_come_back_as_they_were_kept(tmp_path: Path) -> None:
    file = tmp_path / "desk.json"
    kept = DeskSettings().but(look="dark", base_pt=11.0, who="Mair", ledger="ŵenynen.beeledger")
    save_settings(file, kept)
    assert load_settings(file) == kept
    assert list(tmp_path.iterdir()) == [file]


def test_a_text_size_without_a_fraction_is_kept_too(tmp_path: Path) -> None:
    file = tmp_path / "desk.json"
    save_settings(file, DeskSettings().but(base_pt=10))
    assert load_settings(file).base_pt == 10.0


@pytest.mark.parametrize("content", [b"", b"{", b"[]", b"null", b"\xff\xfe\x00", b'"dark"'])
def test_a_spoilt_file_is_as_for_a_new_desk(tmp_path: Path, content: bytes) -> None:
    file = tmp_path / "desk.json"
    file.write_bytes(content)
    assert load_settings(file) == DeskSettings()
    assert load_settings(tmp_path / "not-there.json") == DeskSettings()


def test_what_is_not_understood_is_left_out_and_the_rest_holds(tmp_path: Path) -> None:
    file = tmp_path / "desk.json"
    file.write_text(json.dumps({"look": "light", "who": 7, "base_pt": True, "colour": "red"}))
    assert load_settings(file) == DeskSettings().but(look="light")


def test_a_cut_while_writing_leaves_the_old_settings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "desk.json"
    save_settings(file, DeskSettings().but(who="Mair"))

    def cut(self: Path, text: str, **_: object) -> int:
        self.write_bytes(text.encode()[:9])
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "write_text", cut)
    with pytest.raises(OSError, match="No space"):
        save_settings(file, DeskSettings().but(who="Ned"))
    assert load_settings(file).who == "Mair"


def test_a_desk_has_its_own_folder(desk_folder: Path) -> None:
    from beeledger.base import paths

    assert paths.desk_folder() == desk_folder
    assert settings_file() == desk_folder / "desk.json"
    assert desk_folder.is_dir()


def test_a_name_in_use_gets_a_number(tmp_path: Path) -> None:
    wanted = tmp_path / "ledger aside.db"
    assert free_name(wanted) == wanted
    wanted.touch()
    free_name(wanted).touch()
    assert free_name(wanted).name == "ledger aside 3.db"
