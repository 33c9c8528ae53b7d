"""Words over several lines, broken between words: what else would be cut at the end."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from beeledger.ui.widgets import look
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.look import Role
from beeledger.ui.widgets.painting import run_width, runs_width

_LEAST = 60
"""A narrower piece has not been laid out yet: words broken for it would ask for a height nobody needs."""


def wrapped(text: str, width: int, *, role: Role = "base", weight: int = 400) -> list[str]:
    """The lines of ``text`` in ``width`` pixels; a single word that is wider stands alone in its line."""
    metrics = look.metrics(role, weight)
    if width < look.px(_LEAST) or metrics.horizontalAdvance(text) <= width:
        return [text]
    lines: list[str] = []
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}" if lines else ""
        if lines and metrics.horizontalAdvance(longer) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def wrapped_runs(runs: Sequence[Run], width: int) -> list[tuple[Run, ...]]:
    """Runs over several lines: a run that does not fit goes to the next line whole, else word by word."""
    if not runs or width < look.px(_LEAST) or runs_width(runs) <= width:
        return [tuple(runs)] if runs else []
    lines: list[list[Run]] = [[]]
    for run in runs:
        for piece in [run] if run_width(run) <= width else _words_of(run, width):
            if lines[-1] and runs_width([*lines[-1], piece]) > width:
                lines.append([])
            lines[-1].append(piece)
    return [tuple(line) for line in lines]


def _words_of(run: Run, width: int) -> list[Run]:
    """The lines of one run; the mark or the disc stays before the first."""
    lead = run_width(replace(run, text=""))
    role: Role = "small" if run.small else "base"
    first, *more = wrapped(run.text, width - lead, role=role, weight=run.weight)
    return [replace(run, text=first), *(replace(run, text=words, mark=None, disc="") for words in more)]
