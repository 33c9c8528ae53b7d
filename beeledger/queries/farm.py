"""What the farm has decided about itself, with what a new farm starts from where it has not."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, field, fields, replace
from datetime import date
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from beeledger.base.resources import table
from beeledger.model.farm import FarmSetting
from beeledger.rules import mites
from beeledger.rules.due import DueSettings, default_settings, with_own
from beeledger.rules.rounds.figures import Figures, shipped_figures
from beeledger.rules.rounds.normal import Normal, shipped_normals
from beeledger.rules.rounds.plain import as_plain, from_plain


@dataclass(frozen=True, slots=True)
class FarmSettings:
    """The farm's decisions. Every field is a key of ``operations.farm.set_farm``."""

    name: str
    zone: str
    walking_reversed: bool
    """Whether a new round's lines begin at the far end of the walking order."""
    unit: str
    hive_type: str
    brood_frame: str
    brood_boxes: int
    brood_frames: int
    super_frames: int
    nucleus_frames: int
    super_full_g: int
    road_factor_hundredths: int
    best_before_months: int
    food_name: str
    origin: str
    infant_caution: bool
    address: tuple[str, ...] = ()
    contact: str = ""
    mite_line_hundredths: int = field(default_factory=lambda: mites.figures().treat_hundredths)
    normals: tuple[Normal, ...] = field(default_factory=shipped_normals)
    gtins: tuple[tuple[int, str], ...] = ()
    """Nominal weight in grams and the trade item number of that jar."""
    holding_number: str = ""
    lot_prefix: str = ""
    """The letters that begin the farm's lot marks; lot_marks.is_prefix says which may."""
    due: tuple[tuple[str, int | str], ...] = ()
    """The farm's own figures of what is due, by name; rules.due.adjustables says which there are."""
    due_off: tuple[str, ...] = ()
    """Kinds of reason that the farm does not want."""
    packer_address: tuple[str, ...] = ()
    """What the label says, where it differs from the address."""

    @property
    def round_figures(self) -> Figures:
        """What the checks of a round's lines stand on, with the farm's own line."""
        return replace(shipped_figures(), mite_line_hundredths=self.mite_line_hundredths)

    @property
    def due_settings(self) -> DueSettings:
        """When things fall due, with the farm's own figures and line, without what it switched off."""
        shipped = replace(default_settings(), mite_line_hundredths=self.mite_line_hundredths)
        return with_own(shipped, dict(self.due), self.due_off)

    def gtin(self, nominal_g: int) -> str:
        """The trade item number of a jar size; blank when the farm has none."""
        return dict(self.gtins).get(nominal_g, "")


def new_farm() -> FarmSettings:
    """What a farm starts with."""
    rows = {key: value for key, value in table("rules", "farm.toml")["farm"].items() if key != "source"}
    return FarmSettings(**rows)


def farm_settings(session: Session) -> FarmSettings:
    """The farm's settings: one query."""
    kept = session.execute(select(FarmSetting.key, FarmSetting.value)).all()
    return with_settings(new_farm(), {key: json.loads(value) for key, value in kept})


def with_settings(settings: FarmSettings, plain: Mapping[str, Any]) -> FarmSettings:
    """``settings`` with plain values laid over, as JSON holds them.

    Raises ValueError with a sentence for a key that no farm has or a value of another kind.
    """
    said = {key: _read(settings, key, value) for key, value in plain.items()}
    return replace(settings, **said)


def plain_setting(key: str, value: object) -> object:
    """A setting's value as JSON can hold it."""
    if key == "normals":
        return [
            {**asdict(normal), "entry": as_plain(normal.entry)} if isinstance(normal, Normal) else normal
            for normal in _listed(value)
        ]
    if isinstance(value, tuple):
        return [list(part) if isinstance(part, tuple) else part for part in value]
    return value


KEYS = tuple(one.name for one in fields(FarmSettings))


def _read(settings: FarmSettings, key: str, value: Any) -> Any:
    if key not in KEYS:
        raise ValueError(f"a farm has no setting {key}")
    if key in _LISTS:
        try:
            return _LISTS[key](_listed(value))
        except (KeyError, TypeError) as error:
            raise ValueError(f"{key} is not written as this setting wants it") from error
    if type(value) is not type(getattr(settings, key)):
        raise ValueError(f"{key} is not written as this setting wants it")
    if isinstance(value, int) and value < 0:
        raise ValueError(f"{key} cannot be less than nought")
    return value


def _listed(value: Any) -> list[Any]:
    if not isinstance(value, list | tuple):
        raise TypeError
    return list(value)


def _lines(rows: list[Any]) -> tuple[str, ...]:
    return tuple(str(row) for row in rows)


def _normals(rows: list[Any]) -> tuple[Normal, ...]:
    return tuple(row if isinstance(row, Normal) else _season(row) for row in rows)


def _season(row: Any) -> Normal:
    date(2024, row["month"], row["day"])  # a leap year: whether there is such a day at all
    return Normal(row["name"], row["month"], row["day"], from_plain(row["entry"]))


def _gtins(rows: list[Any]) -> tuple[tuple[int, str], ...]:
    return tuple((int(weight), str(number)) for weight, number in rows)


def _own(rows: list[Any]) -> tuple[tuple[str, int | str], ...]:
    own = tuple((str(name), value) for name, value in rows)
    with_own(default_settings(), dict(own))
    return own


def _off(rows: list[Any]) -> tuple[str, ...]:
    with_own(default_settings(), {}, _lines(rows))
    return _lines(rows)


_LISTS: Mapping[str, Callable[[list[Any]], Any]] = {
    "address": _lines,
    "packer_address": _lines,
    "normals": _normals,
    "gtins": _gtins,
    "due": _own,
    "due_off": _off,
}
