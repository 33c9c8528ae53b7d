"""Tables, fields and values of the ledger in words and in the units a person thinks in."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from datetime import date, datetime
from functools import cache
from zoneinfo import ZoneInfo

from beeledger.base import units
from beeledger.base.dates import long
from beeledger.base.resources import table

_ENDINGS = (
    "_hundredths",
    "_tenths",
    "_pence",
    "_minute",
    "_ml",
    "_m2",
    "_e6",
    "_e5",
    "_id",
    "_on",
    "_at",
    "_g",
    "_m",
)
BLANK = "blank"


@cache
def _words(part: str) -> Mapping[str, str]:
    said: Mapping[str, str] = table("words", "history.toml")[part]
    return said


def table_word(name: str) -> str:
    """A table: "hive number"."""
    return _words("tables").get(name, name.replace("_", " "))


def field_word(name: str) -> str:
    """A field without the ending of its scale: "feed_ml" is "feed"."""
    known = _words("fields").get(name)
    if known is not None:
        return known
    bare = next((name[: -len(end)] for end in _ENDINGS if name.endswith(end) and name != end[1:]), name)
    return bare.replace("_", " ")


def value_words(field: str, value: str | None, zone: str) -> str:
    """A value as a person would say it; ``None`` is blank. What is not as its field wants it is said as it is."""
    if value is None:
        return BLANK
    if value in ("True", "False"):
        return "yes" if value == "True" else "no"
    try:
        said = _by_ending(field, value, zone)
    except ValueError:
        said = None
    return value if said is None else said


def _by_ending(field: str, value: str, zone: str) -> str | None:
    if field in _WHOLE:
        return _WHOLE[field](value)
    if field == "on" or (field.endswith(("_on", "_until", "_from", "best_before")) and "given" not in field):
        return long(date.fromisoformat(value))
    if field.endswith("_at"):
        local = datetime.fromisoformat(value).astimezone(ZoneInfo(zone))
        return f"{long(local.date())}, {local:%H:%M}"
    scale = next((said for ending, said in _SCALES.items() if field.endswith(ending)), None)
    if scale is not None:
        return scale(int(value))
    return value.replace("_", " ") if field in _CHOSEN else None


_SCALES: Mapping[str, Callable[[int], str]] = {
    "_hundredths": lambda number: f"{units.per_cent(number, 2)} %",
    "_tenths": units.frames,
    "_pence": units.money,
    "_minute": lambda number: f"{number // 60:02d}:{number % 60:02d}",
    "_ml": lambda number: f"{units.litres(number, 2)} l",
    "_m2": lambda number: f"{units.hectares(number)} ha",
    "_g": lambda number: f"{units.kilograms(number, 3)} kg",
    "grams": lambda number: f"{units.kilograms(number, 3)} kg",
    "_e6": lambda number: units.scaled(number, 1_000_000),
}
_CHOSEN = frozenset(
    {
        "kind", "state", "outcome", "cause", "end_cause", "founded_how", "queen_state", "place", "sink", "origin",
        "why_ended", "method", "cells_stage", "cells_done", "feed_kind", "honey_kind", "hive_type", "key", "mites_method",
    }
)  # fmt: skip
"""Fields with a choice of words, kept with an underscore between them."""


def _setting(value: str) -> str:
    """A setting is kept as JSON: words without their quotes, a list line by line."""
    plain = json.loads(value)
    if isinstance(plain, bool):
        return "yes" if plain else "no"
    if isinstance(plain, list):
        return ", ".join(str(part) for part in plain if isinstance(part, str)) or None or value
    return str(plain)


_WHOLE: Mapping[str, Callable[[str], str]] = {
    "value": _setting,
    "net_tenths_g": lambda text: f"{units.scaled(int(text), 10)} g",
    "refractive_index_e5": lambda text: units.scaled(int(text), 100_000),
    "temperature_tenths": lambda text: f"{units.degrees(int(text))} °C",
}
"""Fields whose name alone does not tell how they are said."""
