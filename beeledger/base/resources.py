"""Files that ship with the program: fonts, rule figures, layouts, words.

In a checkout they lie beside the package, in a wheel inside it.
"""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path
from typing import Any

_PACKAGE = Path(__file__).resolve().parent.parent
_INSIDE = _PACKAGE / "resources"
ROOT = _INSIDE if _INSIDE.is_dir() else _PACKAGE.parent / "resources"


def resource(*parts: str) -> Path:
    """The path of a shipped file; FileNotFoundError names it when the installation lacks it."""
    path = ROOT.joinpath(*parts)
    if not path.exists():
        raise FileNotFoundError(f"the installation lacks {'/'.join(parts)}")
    return path


@cache
def table(*parts: str) -> dict[str, Any]:
    """A shipped TOML file, read once. Treat it as read-only."""
    with resource(*parts).open("rb") as file:
        return tomllib.load(file)
