"""Quantities of stock as they are shown and as they are typed: kilograms, litres, pieces, packs."""

from __future__ import annotations

import re
from collections.abc import Sequence

from beeledger.base.text import folded
from beeledger.base.units import scaled, signed_text, to_scale
from beeledger.queries.records.stock import MEDICINE, Item
from beeledger.rules.stock_items import BoxState, ItemKind, Unit

KIND_WORDS: dict[str, str] = {
    ItemKind.FEED: "feed", ItemKind.JAR: "jars", ItemKind.LID: "lids", ItemKind.LABEL: "labels",
    ItemKind.FRAMES: "frames", ItemKind.FOUNDATION: "foundation", ItemKind.BOX: "boxes", ItemKind.OTHER: "other",
    MEDICINE: "medicine",
}  # fmt: skip
STATE_WORDS: dict[str, str] = {
    BoxState.FOUNDATION: "foundation", BoxState.DRAWN: "drawn comb", BoxState.WET: "wet", BoxState.CLEAN: "clean",
    BoxState.CONDEMNED: "condemned",
}  # fmt: skip
UNIT_WORDS: dict[str, str] = {Unit.GRAM: "kg", Unit.MILLILITRE: "l", Unit.PIECE: "pieces"}
"""What quantities are shown in, and what a figure means that is typed without its unit."""
UNIT_SIGNS: dict[str, str] = {**UNIT_WORDS, Unit.PIECE: ""}
"""The same where pieces go without saying."""
_SCALE = {Unit.GRAM: 1_000, Unit.MILLILITRE: 1_000, Unit.PIECE: 1}
_TYPED = re.compile(r"\s*([0-9][0-9.,·]*)\s*([^\W\d_]*)\s*")
_WORDS: dict[str, tuple[Unit, int]] = {
    "kg": (Unit.GRAM, 1_000), "g": (Unit.GRAM, 1), "l": (Unit.MILLILITRE, 1_000), "litre": (Unit.MILLILITRE, 1_000),
    "ml": (Unit.MILLILITRE, 1), "piece": (Unit.PIECE, 1),
}  # fmt: skip


def figure(quantity: int, unit: Unit) -> str:
    """A quantity without its unit, in the fewest decimals: 12500 g is "12.5"."""
    scale = _SCALE[unit]
    if scale == 1:
        return signed_text(quantity)
    places = next(places for places in (0, 1, 2, 3) if quantity % 10 ** (3 - places) == 0)
    return scaled(quantity, scale, places)


def said(quantity: int, unit: Unit) -> str:
    """A quantity with its unit; of pieces the number alone."""
    return figure(quantity, unit) if unit is Unit.PIECE else f"{figure(quantity, unit)} {UNIT_WORDS[unit]}"


def rough(quantity: int, unit: Unit) -> str:
    """A quantity to a tenth of its unit, for lists and forecasts."""
    if _SCALE[unit] == 1:
        return signed_text(quantity)
    tenths = scaled(quantity, _SCALE[unit], 1)
    return tenths.removesuffix(".0")


def roughly(quantity: int, unit: Unit) -> str:
    """The same with its unit; of pieces the number alone."""
    return rough(quantity, unit) if unit is Unit.PIECE else f"{rough(quantity, unit)} {UNIT_WORDS[unit]}"


def value(quantity: int, unit: Unit) -> float:
    """A quantity for a chart, in the unit that is shown."""
    return quantity / _SCALE[unit]


def read_quantity(text: str, unit: Unit, pack: int | None = None, pack_word: str = "") -> int:
    """A quantity as typed: "12.5" (in the unit shown), "800 g", "3 sacks". ValueError with a sentence."""
    found = _TYPED.fullmatch(text)
    if found is None:
        raise ValueError(f"{text!r} is no quantity")
    number, word = found[1], _singular(found[2])
    if not word:
        return to_scale(number, _SCALE[unit])
    if word in _WORDS and _WORDS[word][0] is unit:
        return to_scale(number, _WORDS[word][1])
    if word in ("pack", _singular(pack_word)):
        if pack is None:
            raise ValueError("nobody wrote down how much a pack holds")
        return to_scale(number, 1) * pack
    raise ValueError(f"it is kept in {UNIT_WORDS[unit]}, not in {found[2]}")


def find_item(items: Sequence[Item], typed: str) -> Item:
    """The item that was meant: by its number in a choice, its name, or a part that only one name has."""
    by_number = {str(item.id): item for item in items}
    if typed in by_number:
        return by_number[typed]
    exact = [item for item in items if folded(item.name) == folded(typed)]
    meant = exact or [item for item in items if folded(typed) in folded(item.name)]
    if len(meant) == 1:
        return meant[0]
    raise ValueError("several are called so" if meant else f"the farm keeps no {typed}")


def packs_words(packs: int | None, pack_word: str) -> str:
    """So many packs: "9 sacks"; blank where nobody wrote down what a pack holds."""
    if not packs:
        return ""
    word = pack_word or "pack"
    return f"{packs:,} {word if packs == 1 else word + ('es' if word.endswith(('x', 's', 'ch')) else 's')}"


def _singular(word: str) -> str:
    small = folded(word)
    if small.endswith(("xes", "ches", "sses")):
        return small[:-2]
    return small[:-1] if len(small) > 2 and small.endswith("s") else small
