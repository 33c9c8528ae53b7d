"""Small habits of wording: one place so that every floor says things the same way."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence


def counted(number: int, one: str, many: str | None = None) -> str:
    """A counted thing in words: "1 hive", "3 hives", "1,150 hives"."""
    return f"{number:,} {one if number == 1 else (many or one + 's')}"


def listed(words: Sequence[str]) -> str:
    """A list in words: "a", "a and b", "a, b and c"."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def shortened(text: str, length: int) -> str:
    """At most ``length`` characters, cut at the end with an ellipsis."""
    return text if len(text) <= length else text[: length - 1].rstrip() + "…"


def tidy(text: str) -> str:
    """NFC, control characters out, runs of blanks as one, none at the ends."""
    kept = (
        ch if not unicodedata.category(ch).startswith("C") else " "
        for ch in unicodedata.normalize("NFC", text)
    )
    return " ".join("".join(kept).split())


def folded(text: str) -> str:
    """For comparing names: tidy, without case and accents."""
    bare = unicodedata.normalize("NFKD", tidy(text)).casefold()
    return "".join(ch for ch in bare if not unicodedata.combining(ch))
