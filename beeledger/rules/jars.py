"""Jars of a lot: how many are left, and the grams that a number of them takes along.

Jars are counted pieces; what they hold is weighed only on the whole. A lot's grams are shared over its
jars, so that they sum to the gram and the last jar takes the last one.
"""

from __future__ import annotations

from collections.abc import Sequence

from beeledger.base.units import share_out

AT_JARRING = ("wax", "foam", "spill", "sample", "feed", "loss")
"""Sinks by which honey leaves a batch without being a jar that goes out; with a count, jars that were lost."""


def jars_of(grams: int, filled: int, jars_g: int) -> int:
    """How many jars ``grams`` are, of a lot of ``filled`` jars with ``jars_g`` in all; half counts as one.

    For rows of which nobody counted the jars. Nought when the lot holds nothing. ValueError below nought.
    """
    if grams < 0 or filled < 0:
        raise ValueError("grams and jars are not below nought")
    return (2 * grams * filled + jars_g) // (2 * jars_g) if jars_g > 0 else 0


def jars_left(filled: int, jars_g: int, counted_out: int, uncounted_g: int) -> int:
    """Jars still there: filled, less those counted out, less what left as grams only."""
    return filled - counted_out - jars_of(uncounted_g, filled, jars_g)


def grams_of(jars: int, there: int, left_g: int) -> int:
    """The grams that ``jars`` of ``there`` take along from ``left_g``. ValueError when more go than are there."""
    if not 0 <= jars <= there:
        raise ValueError(f"{jars} of {there} jars")
    return share_out(left_g, [jars, there - jars])[0] if there else 0


def counts_of(grams: Sequence[int], counts: Sequence[int | None], filled: int, jars_g: int) -> list[int]:
    """The jars of each row that left a lot: as counted, else by their grams.

    What was not counted is shared by largest remainders, so that the whole is what ``jars_left`` reckons with.
    """
    loose = [each if count is None else 0 for each, count in zip(grams, counts, strict=True)]
    whole = jars_of(sum(loose), filled, jars_g)
    shared = share_out(whole, loose) if any(loose) else [0] * len(loose)
    return [part if count is None else count for part, count in zip(shared, counts, strict=True)]
