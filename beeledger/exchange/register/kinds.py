"""Tables of hives told apart by what they hold: a register, a log of looks, a list of queens."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from beeledger.base.text import folded
from beeledger.exchange.figures import is_not_given, shown
from beeledger.exchange.register.blocks import Block
from beeledger.exchange.register.headings import Kind

_LEAST_REPEATS = 0.3
"""Share of rows that speak of a hive named before, on another day, from which on a table is a log of looks."""
_OF_A_LOOK = {"brood", "supers", "temper", "bees", "stores", "eggs", "cells", "queen_seen", "hive_type"}
_OF_A_QUEEN = {"queen_year", "queen_colour", "marked", "clipped", "line"}
_HERS_ALONE = {"clipped", "line"}


def with_kinds(blocks: Sequence[Block]) -> list[Block]:
    """The blocks, those of hives that are looks or queens called so. What the person said stands."""
    registers = sum(
        block.heads.kind is Kind.HIVES and bool(_OF_A_LOOK & set(block.heads.columns)) for block in blocks
    )
    return [_settled(block, others=registers > 0) for block in blocks]


def _settled(block: Block, *, others: bool) -> Block:
    heads = block.heads
    if heads.kind is not Kind.HIVES or block.kind_said:
        return block
    if _is_log(block):
        return replace(block, heads=replace(heads, kind=Kind.LOOKS))
    columns = set(heads.columns)
    queens = "hive" in columns and columns & _OF_A_QUEEN and not columns & (_OF_A_LOOK | {"queen_state"})
    hers = columns & _HERS_ALONE or "queen" in folded(f"{block.sheet} {block.title}")
    if queens and (hers or (others and "site" not in columns)):
        return replace(block, heads=replace(heads, kind=Kind.QUEENS))
    return block


def _is_log(block: Block) -> bool:
    heads = block.heads
    if not {"hive", "seen"} <= set(heads.columns):
        return False
    days: dict[tuple[int, str, str], set[str]] = {}
    section, site, rows, repeats = 0, "", 0, 0
    for line in block.lines:
        mark, day = heads.cell(line, "hive"), heads.cell(line, "seen")
        if is_not_given(mark) or is_not_given(day):
            # A row of one word may head the hives of another site, whose numbers begin again.
            section += len(line.filled()) == 1
            continue
        said = heads.cell(line, "site")
        site = site if is_not_given(said) else folded(shown(said))
        seen = days.setdefault((section, site, folded(shown(mark))), set())
        rows += 1
        repeats += bool(seen) and shown(day) not in seen
        seen.add(shown(day))
    return repeats >= 1 and repeats >= _LEAST_REPEATS * rows
