"""What the four corner codes of a round sheet carry: three parts of the page, and a fourth to mend a lost one.

The paper itself says which site, day and hives it is of, in walking order. So printing keeps nothing in the
ledger: a sheet printed from another desk, by the command line or of a read-only copy is read all the same, and
a hive that moved since keeps its line.
"""

from __future__ import annotations

import zlib
from binascii import crc_hqx
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from beeledger.rules.rounds.paper import PaperPage, in_order

KIND = 0xB5
"""The first byte of a code: ours, layout 1."""
CORNERS = 4
_PARTS = 3
_HEAD = 7


@dataclass(frozen=True, slots=True)
class Corner:
    """One code as read: which sheet, page and corner it is of, and its part of the words."""

    sheet: str
    """Eight hexadecimal digits, the same on every page of a sheet."""
    page: int
    corner: int
    long: int
    """Bytes that the three parts say together."""
    part: bytes


def check_sum(words: Sequence[str]) -> int:
    """CRC-16 of ITU-T V.41 over words in their order."""
    return crc_hqx(in_order(words), 0)


def sheet_mark(site_id: int, day: int, hives: Sequence[tuple[int | None, str]]) -> str:
    """The mark of a sheet: the CRC-32 of its site, day, hives and their order, eight digits."""
    words = [str(site_id), str(day), *(f"{colony} {mark}" for colony, mark in hives)]
    return f"{zlib.crc32(in_order(words)):08x}"


def corner_words(sheet: str, page: PaperPage) -> tuple[bytes, ...]:
    """The bytes of a page's four codes, top left, top right, bottom left, bottom right."""
    words = _packed(page)
    words += crc_hqx(words, 0).to_bytes(2)
    each = -(-len(words) // _PARTS)
    filled = words.ljust(each * _PARTS, b"\0")
    parts = [filled[at * each : (at + 1) * each] for at in range(_PARTS)]
    parts.append(_mended(parts))
    head = bytes([KIND]) + bytes.fromhex(sheet)
    return tuple(
        head + bytes([page.page << 2 | corner, len(words)]) + part for corner, part in enumerate(parts)
    )


def read_corner(said: bytes) -> Corner | None:
    """A code's bytes taken apart; None when it is no code of a round sheet."""
    if len(said) <= _HEAD or said[0] != KIND:
        return None
    return Corner(said[1:5].hex(), said[5] >> 2, said[5] & 3, said[6], said[_HEAD:])


def page_of(corners: Sequence[Corner]) -> PaperPage:
    """The page that three or four of its codes say. ValueError when they are fewer or do not agree."""
    parts: dict[int, bytes] = {one.corner: one.part for one in corners}
    first = corners[0]
    missing = [at for at in range(_PARTS) if at not in parts]
    if len(parts) < _PARTS or len({len(part) for part in parts.values()}) != 1:
        raise ValueError("fewer than three corner codes")
    for at in missing:
        parts[at] = _mended([part for corner, part in parts.items() if corner != at])
    words = b"".join(parts[at] for at in range(_PARTS))[: first.long]
    body, check = words[:-2], words[-2:]
    if crc_hqx(body, 0) != int.from_bytes(check):
        raise ValueError("the corner codes do not agree")
    return _unpacked(first.page, body)


def _mended(parts: Sequence[bytes]) -> bytes:
    """Each byte the exclusive or of the others': any one of four parts follows from the other three."""
    mended = bytearray(len(parts[0]))
    for part in parts:
        for at, byte in enumerate(part):
            mended[at] ^= byte
    return bytes(mended)


def _packed(page: PaperPage) -> bytes:
    said = bytearray()
    for number in (
        page.site_id,
        page.day,
        page.site_print,
        page.marks_print,
        page.start,
        page.total,
        page.top,
    ):
        said += _number(number)
    said += _number(len(page.hives))
    before = 0
    for colony in page.hives:
        if colony is None:
            said += _number(0)
        else:
            apart = colony - before
            said += _number((2 * apart if apart > 0 else -2 * apart + 1) or 1)
            before = colony
    return bytes(said) + bytes(page.steps)


def _unpacked(page: int, words: bytes) -> PaperPage:
    numbers, at = [], 0
    for _ in range(8):
        number, at = _next_number(words, at)
        numbers.append(number)
    hives: list[int | None] = []
    before = 0
    for _ in range(numbers[7]):
        number, at = _next_number(words, at)
        if number == 0:
            hives.append(None)
            continue
        before += -(number // 2) if number % 2 else number // 2
        hives.append(before)
    steps = tuple(words[at : at + len(hives)])
    return PaperPage(
        page, numbers[0], numbers[1], numbers[2], numbers[3], numbers[4], numbers[5], numbers[6], tuple(hives), steps
    )  # fmt: skip


def _number(value: int) -> bytes:
    """Seven bits a byte, the lowest first; a byte below 128 is the last (LEB128)."""
    said = bytearray()
    while value > 0x7F:
        said.append(value & 0x7F | 0x80)
        value >>= 7
    said.append(value)
    return bytes(said)


def _next_number(words: bytes, at: int) -> tuple[int, int]:
    value = shift = 0
    while True:
        if at >= len(words):
            raise ValueError("the corner codes end too soon")
        byte = words[at]
        value |= (byte & 0x7F) << shift
        at, shift = at + 1, shift + 7
        if byte <= 0x7F:
            return value, at


def same_marks(page: PaperPage, marks: Mapping[int, str]) -> bool:
    """Whether the hives of a page carry the marks they were printed with."""
    said = [marks.get(colony, "") if colony is not None else "" for colony in page.hives]
    return check_sum(said) == page.marks_print
