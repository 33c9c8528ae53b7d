"""The farm's decisions about itself, written."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any
from zoneinfo import ZoneInfo

from sqlalchemy import select

from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import listed
from beeledger.database.audit import OpenAct
from beeledger.model.farm import FarmSetting
from beeledger.queries.farm import new_farm, plain_setting, with_settings


def set_farm(act: OpenAct, changes: Mapping[str, Any]) -> str:
    """Write settings by their names in ``queries.farm.FarmSettings``; what is not named stays.

    Refused, each with its name, for keys no farm has and values of another kind.
    """
    plain = {key: plain_setting(key, value) for key, value in changes.items()}
    findings = [found for key, value in plain.items() if (found := _check(key, value))]
    if findings:
        raise Refused(findings)
    kept = {
        row.key: row for row in act.session.scalars(select(FarmSetting).where(FarmSetting.key.in_(plain)))
    }
    for key, value in plain.items():
        text = json.dumps(value, ensure_ascii=False, separators=(",", ":"))
        if key in kept:
            kept[key].value = text
        else:
            act.session.add(FarmSetting(key=key, value=text))
    return f"Settings: {listed([_WORDS.get(key, key.replace('_', ' ')) for key in plain])}"


_WORDS = {
    "name": "the farm's name", "zone": "time zone", "walking_reversed": "the way one walks", "unit": "pounds or kilograms",
    "super_full_g": "weight of a full super", "road_factor_hundredths": "roads against the straight line",
    "best_before_months": "best before", "food_name": "name of the food", "infant_caution": "caution for infants",
    "mite_line_hundredths": "mites from which to treat", "normals": "what is normal", "gtins": "trade numbers of jars",
    "packer_address": "address of the packer", "due": "when things fall due", "due_off": "reasons not wanted",
}  # fmt: skip
"""Settings whose name does not say what they are."""
_RANGES = {
    "brood_boxes": (1, 9), "brood_frames": (1, 20), "super_frames": (1, 20), "nucleus_frames": (1, 20),
    "mite_line_hundredths": (1, 10_000), "best_before_months": (1, 120), "road_factor_hundredths": (100, 1_000),
}  # fmt: skip
"""What a setting may be: boxes and frames as the table of boxes holds them."""


def _check(key: str, value: Any) -> Finding | None:
    if key in _RANGES and isinstance(value, int) and not _RANGES[key][0] <= value <= _RANGES[key][1]:
        what = f"{key.replace('_', ' ')} goes from {_RANGES[key][0]} to {_RANGES[key][1]}"
        return Finding("farm.setting", Grade.REFUSED, what, where=Where(field=key))
    try:
        settings = with_settings(new_farm(), {key: value})
        if key == "zone":
            ZoneInfo(settings.zone)
    except (ValueError, KeyError, OSError) as error:
        what = str(error) if isinstance(error, ValueError) else f"{value} is no time zone"
        return Finding("farm.setting", Grade.REFUSED, what, where=Where(field=key))
    return None
