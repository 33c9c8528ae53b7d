"""What one desk has settled for itself: its look, text size, who sits there, the last ledger."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass, field, fields, replace
from pathlib import Path
from typing import Any


@dataclass(frozen=True, slots=True)
class DeskSettings:
    """The settings of this desk; ``look`` is "auto", "light" or "dark"."""

    look: str = "auto"
    base_pt: float = 9.75
    who: str = "office"
    desk: str = "office"
    ledger: str = ""
    places_folded: str = "auto"
    enter_goes: str = "down"
    kept_filters: dict[str, str] = field(default_factory=dict)
    """Filters of the table of colonies, by the names they were kept under."""
    column_choices: dict[str, dict[str, str]] = field(default_factory=dict)
    """What columns of old spreadsheets are, by the headings of their table and then by heading."""

    def but(self, **changes: Any) -> DeskSettings:
        """The same with some settings changed."""
        return replace(self, **changes)


def load_settings(path: Path) -> DeskSettings:
    """The settings kept in ``path``; what is missing or not understood is as for a new desk."""
    try:
        kept = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return DeskSettings()
    if not isinstance(kept, dict):
        return DeskSettings()
    plain = DeskSettings()
    known = {one.name: type(getattr(plain, one.name)) for one in fields(DeskSettings)}
    return DeskSettings(
        **{name: kind(kept[name]) for name, kind in known.items() if _is_of(kept.get(name), kind)}
    )


def _is_of(value: object, kind: type) -> bool:
    """A whole number serves where a broken one is kept: 10 for 10.0."""
    return isinstance(value, (int, float) if kind is float else kind) and not isinstance(value, bool)


def save_settings(path: Path, settings: DeskSettings) -> None:
    """Keep the settings; the file is replaced whole, so a cut leaves the old one."""
    part = path.with_name(path.name + ".part")
    part.write_text(json.dumps(asdict(settings), indent=1), encoding="utf-8")
    part.replace(path)
