"""What the honey room decided of a label: the words on it that do not follow from the batch itself.

Kept with the batch as JSON, so that a label can be printed again as it was. Lot mark, net quantity,
date, countries of harvest and article number follow from the batch and the farm, and are not typed here.
"""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass, fields
from typing import Any


@dataclass(frozen=True, slots=True)
class LabelWords:
    """The words and choices of one label. Empty text: as the farm and the batch have it."""

    name: str = "Honey"
    """The name of the food, as printed."""
    product: str = "honey"
    """The kind of product that the law has a name for: a key of ``rules.labels.products()``."""
    origin_words: str = ""
    """Empty: made of the countries that stand behind the batch."""
    business: str = ""
    address: str = ""
    """On one line; empty: the farm's."""
    infant_caution: bool = True
    floral: str = ""
    region: str = ""
    other_words: tuple[str, ...] = ()
    date_form: str = "month and year"
    """One of ``rules.labels.DateForm``."""
    imperial: bool = False
    e_mark: bool = False
    market: str = "Great Britain"
    """One of ``rules.labels.Market``."""
    surface_cm2: int = 100
    """Of the jar: its largest surface, on which the least size of text depends."""

    def kept(self) -> str:
        """As JSON text."""
        return json.dumps(asdict(self), ensure_ascii=False, separators=(",", ":"))


def words_kept(text: str) -> LabelWords:
    """The words out of the JSON of a batch; what an older program did not know is as for a new label."""
    kept: dict[str, Any] = json.loads(text or "{}")
    known = {field.name for field in fields(LabelWords)}
    said = {key: value for key, value in kept.items() if key in known}
    if "other_words" in said:
        said["other_words"] = tuple(said["other_words"])
    return LabelWords(**said)
