"""What is typed at the scale, turn by turn, before it is written: supers one after another, then drums.

Pure reckoning, no widgets: each turn is read from the fields, and the whole becomes the input of an act.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from beeledger.base.findings import holds
from beeledger.base.units import kilograms, per_cent, scaled, to_scale
from beeledger.operations.honey import Filled, NewExtraction
from beeledger.operations.honey_lots import Spent
from beeledger.operations.takes import NewWeighing, Weighed
from beeledger.queries.honey import verdict_of
from beeledger.rules.honey import check_refractometer, moisture_from_ri
from beeledger.rules.honey_composition import Kind

_RI_SCALE = 100_000


class Wrong(ValueError):
    """A figure that cannot be read or be true, and the field it stands in."""

    def __init__(self, field: str, sentence: str) -> None:
        """``sentence`` says what is wrong and how to mend it."""
        super().__init__(sentence)
        self.field = field


@dataclass(frozen=True, slots=True)
class Turn:
    """One turn on the scale; a drum has a name, and a refractometer's reading where one was taken."""

    gross_g: int
    tare_g: int
    name: str = ""
    refractive_index_e5: int | None = None
    temperature_tenths: int | None = None
    odd: str = ""
    """What looks odd about the refractometer's reading."""

    @property
    def net_g(self) -> int:
        """The honey."""
        return self.gross_g - self.tare_g

    @property
    def moisture_hundredths(self) -> int | None:
        """Water, by the refractometer."""
        if self.refractive_index_e5 is None:
            return None
        at = 200 if self.temperature_tenths is None else self.temperature_tenths
        return moisture_from_ri(self.refractive_index_e5, at)

    def read_words(self) -> str:
        """The refractometer's reading as it was typed."""
        if self.refractive_index_e5 is None:
            return ""
        at = "" if self.temperature_tenths is None else f" at {scaled(self.temperature_tenths, 10, 1)} °C"
        return f"{scaled(self.refractive_index_e5, _RI_SCALE, 4)}{at}"

    def water_words(self) -> str:
        """Its water in per cent."""
        water = self.moisture_hundredths
        return "" if water is None else per_cent(water)


def read_turn(
    values: Mapping[str, str], taken: Sequence[Turn], *, drums: bool, honey_kind: str = "blossom"
) -> Turn:
    """A turn from the fields as typed. Wrong, with its field, when something cannot be."""
    tare, gross = _figure(values, "tare", 1000), _figure(values, "gross", 1000)
    if gross is None:
        raise Wrong("gross", "type what the scale shows")
    if tare is None:
        raise Wrong("tare", "type the weight empty; 0 when the scale was set to nought")
    if gross <= tare:
        raise Wrong("gross", f"{kilograms(gross, 3)} kg full is not above {kilograms(tare, 3)} kg empty")
    if not drums:
        return Turn(gross, tare)
    name = " ".join(values.get("name", "").split())
    if not name:
        raise Wrong("name", "say which drum it is")
    if any(turn.name == name for turn in taken):
        raise Wrong("name", f"{name} is filled already")
    index, temperature = _figure(values, "index", _RI_SCALE), _figure(values, "temperature", 10)
    odd = "" if index is None else _look_at(index, 200 if temperature is None else temperature, honey_kind)
    return Turn(gross, tare, name, index, temperature, odd)


def _look_at(index: int, temperature: int, honey_kind: str) -> str:
    """What is odd about a refractometer's reading. Wrong when it can be none."""
    findings = check_refractometer(index, temperature)
    if holds(findings):
        raise Wrong("index", findings[0].sentence())
    verdict = verdict_of("moisture", moisture_from_ri(index, temperature), Kind(honey_kind))
    if findings:
        return findings[0].what
    return f"goes on hold, {verdict.sentence()}" if verdict is not None and verdict.met is False else ""


def next_name(name: str) -> str:
    """The name of the drum after this one: "drum 114" → "drum 115"; blank when it has no number."""
    head, _, number = name.rpartition(" ")
    return f"{head} {int(number) + 1}" if head and number.isascii() and number.isdigit() else ""


def weighing_of(take_id: int, on: date, turns: Sequence[Turn]) -> NewWeighing:
    """The supers of a take as weighed."""
    return NewWeighing(take_id, on, tuple(Weighed(turn.gross_g, turn.tare_g) for turn in turns))


def extraction_of(
    lot_ids: Sequence[int], on: date, turns: Sequence[Turn], wax_g: int, *, finish: bool
) -> NewExtraction:
    """A run of the extractor as weighed."""
    filled = tuple(
        Filled(
            turn.name, turn.gross_g, turn.tare_g, _kind(turn.name), turn.refractive_index_e5, turn.temperature_tenths
        )
        for turn in turns
    )  # fmt: skip
    return NewExtraction(on, tuple(lot_ids), filled, (Spent("wax", wax_g),) if wax_g else (), finish)


def _kind(name: str) -> str:
    first = name.split(maxsplit=1)[0].casefold() if name.split() else ""
    return first if first in ("tank", "bucket") else "drum"


def _figure(values: Mapping[str, str], field: str, scale: int) -> int | None:
    text = values.get(field, "")
    if not text.strip():
        return None
    try:
        number = to_scale(text, scale)
    except ValueError as error:
        raise Wrong(field, str(error)) from None
    if number < 0:
        raise Wrong(field, "this cannot be less than nought")
    return number
