"""Where a desk keeps its own things: settings, drafts, reports of faults."""

from __future__ import annotations

import os
from pathlib import Path

from platformdirs import user_config_path, user_data_path


def desk_folder() -> Path:
    """The folder of this desk's drafts and settings; ``BEELEDGER_DESK`` names another."""
    given = os.environ.get("BEELEDGER_DESK")
    folder = Path(given) if given else user_data_path("beeledger")
    folder.mkdir(parents=True, exist_ok=True)
    return folder


def settings_file() -> Path:
    """The desk's settings file."""
    given = os.environ.get("BEELEDGER_DESK")
    folder = Path(given) if given else user_config_path("beeledger")
    folder.mkdir(parents=True, exist_ok=True)
    return folder / "desk.json"


def free_name(wanted: Path) -> Path:
    """``wanted``, or with a number behind it where a file of that name is there already."""
    names = (wanted.with_stem(f"{wanted.stem} {number}") for number in range(2, 1000))
    return next(path for path in (wanted, *names) if not path.exists())
