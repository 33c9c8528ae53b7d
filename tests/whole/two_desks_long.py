"""Two desks at one ledger do anything for a while, and nothing is lost: ten minutes by hand, ten seconds in the suite.

By hand: python -m tests.whole.two_desks_long --minutes 10

Each desk is a process with the real window. Every act tried must stand in History or have been refused with a
sentence; the ledger must check clean; and each window must show the other's acts within five seconds.
"""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
import tempfile
from collections import Counter
from contextlib import closing
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from sqlalchemy import select

from beeledger.base.clock import FixedClock
from beeledger.database.checking.check import check_ledger
from beeledger.database.opening import open_ledger
from beeledger.model.acts import Act
from tests.builders.yards import yard

DESKS = ("office", "kitchen")
EVENING = datetime(2026, 5, 14, 18, 0, tzinfo=UTC)
ROOT = Path(__file__).resolve().parents[2]
ALLOWED_S = 5.0
PATIENCE_S = 150.0
"""How long desks may take to open their windows, and to finish what is under way when their time is over."""
_STEADY_S = 1.0
"""A desk that has just come to History reads it first; acts older than that are not news."""


@dataclass(slots=True)
class Outcome:
    """What two desks came to."""

    tried: int = 0
    done: dict[int, tuple[str, str]] = field(default_factory=dict)
    """Act by number: desk and kind, as the desk was told."""
    refused: Counter[str] = field(default_factory=Counter)
    silent: int = 0
    """Refusals without a sentence."""
    history: dict[int, tuple[str, str]] = field(default_factory=dict)
    faults: list[str] = field(default_factory=list)
    breaches: list[str] = field(default_factory=list)
    heard_s: list[float] = field(default_factory=list)
    shown_s: list[float] = field(default_factory=list)

    def lost(self) -> dict[int, tuple[str, str]]:
        """Acts a desk was told of that History does not hold as such."""
        return {act: what for act, what in self.done.items() if self.history.get(act) != what}


def part(values: list[float], share: float) -> float:
    """The value below which this share lies."""
    ordered = sorted(values)
    return ordered[min(len(ordered) - 1, int(share * len(ordered)))] if ordered else float("nan")


def two_desks(target: str, seconds: float, *, pause_ms: int = 400, seed: int = 514) -> Outcome:
    """Let two desks live at a fresh ledger for so long, then look at what came of it."""
    clock = FixedClock(EVENING, "Europe/London")
    with closing(open_ledger(target, clock)) as ledger:
        yard(ledger, "Long Drove", *(str(number) for number in range(1, 13)))
        yard(ledger, "Far Drove", *(str(number) for number in range(21, 29)))
        first = ledger.last_act()
    outcome = Outcome()
    told = []
    with tempfile.TemporaryDirectory() as folder:
        desks = [
            _desk(target, name, seconds, seed + at, pause_ms, Path(folder)) for at, name in enumerate(DESKS)
        ]
        for name, desk in zip(DESKS, desks, strict=True):
            try:
                desk.wait(timeout=seconds + PATIENCE_S)
            except subprocess.TimeoutExpired:
                desk.kill()
                desk.wait()
            words, errors = (Path(folder, f"{name}.{kind}").read_text() for kind in ("said", "errors"))
            told.append([json.loads(line) for line in words.splitlines()])
            if desk.returncode or errors:
                outcome.faults.append(f"{name} ended with {desk.returncode}: {words[-500:]} {errors[-2000:]}")
            _take_in(outcome, name, told[-1])
    _lags(outcome, told)
    with closing(open_ledger(target, clock)) as ledger:
        with ledger.read() as session:
            acts = session.execute(select(Act.id, Act.desk, Act.kind).where(Act.id > first)).all()
        outcome.history = {number: (desk, kind) for number, desk, kind in acts}
        outcome.breaches = [finding.sentence() for finding in check_ledger(ledger).findings]
    return outcome


def _desk(
    target: str, name: str, seconds: float, seed: int, pause_ms: int, folder: Path
) -> subprocess.Popen[bytes]:
    words = [target, name, str(seconds), str(seed), str(pause_ms), str(folder)]
    surroundings = os.environ | {"PYTHONPATH": str(ROOT), "BEELEDGER_DESK": str(folder / name)}
    with Path(folder, f"{name}.said").open("wb") as out, Path(folder, f"{name}.errors").open("wb") as errors:
        return subprocess.Popen(
            [sys.executable, "-m", "tests.whole.desk_life", *words],
            stdout=out, stderr=errors, env=surroundings, cwd=ROOT,
        )  # fmt: skip


def _take_in(outcome: Outcome, name: str, lines: list[dict[str, Any]]) -> None:
    for line in lines:
        if "tried" not in line:
            continue
        outcome.tried += 1
        if "act" in line:
            outcome.done[line["act"]] = (name, line["kind"])
        else:
            outcome.refused[line["tried"]] += 1
            outcome.silent += not all(sentence.strip() for sentence in line["refused"])
            outcome.faults += [sentence for sentence in line["refused"] if "fault in the program" in sentence]


def _lags(outcome: Outcome, told: list[list[dict[str, Any]]]) -> None:
    """How long after one desk knew its act done the other had heard of it, and how long until it showed it."""
    for mine, others in ((told[0], told[1]), (told[1], told[0])):
        done_at = {line["act"]: line["at"] for line in others if "act" in line}
        heard, came_to_history = -1, 0.0
        at_history = True
        for line in mine:
            if "heard" in line:
                outcome.heard_s += [
                    max(0.0, line["at"] - at) for act, at in done_at.items() if heard < act <= line["heard"]
                ]
                heard = max(heard, line["heard"])
            elif "place" in line:
                at_history = line["place"] == "history"
                came_to_history = line["at"]
            elif "shown" in line and at_history:
                at = done_at.get(line["shown"])
                if at is not None and at > came_to_history + _STEADY_S:
                    outcome.shown_s.append(line["at"] - at)


def said(outcome: Outcome) -> str:
    """The figures, a line each."""
    kinds = Counter(kind for _desk, kind in outcome.done.values())
    return "\n".join(
        [
            f"tried {outcome.tried}, done {len(outcome.done)}, refused with a sentence {outcome.refused.total()}",
            f"done: {dict(kinds.most_common())}",
            f"refused: {dict(outcome.refused.most_common())}",
            f"in History but not told to a desk: {len(set(outcome.history) - set(outcome.done))}",
            f"lost: {outcome.lost()}; refusals without a sentence: {outcome.silent}; faults: {outcome.faults}",
            f"breaches: {outcome.breaches}",
            *(
                f"{what}: {len(lags)} acts, median {part(lags, 0.5):.2f} s, p95 {part(lags, 0.95):.2f} s, "
                f"most {max(lags, default=float('nan')):.2f} s"
                for what, lags in (
                    ("heard by the other desk", outcome.heard_s),
                    ("shown there", outcome.shown_s),
                )
            ),
        ]
    )


def main() -> int:
    """Run by hand against a throw-away server."""
    from tests.servers import running_server

    wanted = argparse.ArgumentParser(description=__doc__)
    wanted.add_argument("--minutes", type=float, default=10.0)
    wanted.add_argument("--seed", type=int, default=514)
    chosen = wanted.parse_args()
    with running_server() as server:
        outcome = two_desks(server.create("farm"), chosen.minutes * 60, seed=chosen.seed)
    sys.stdout.write(said(outcome) + "\n")
    good = not (outcome.lost() or outcome.silent or outcome.faults or outcome.breaches)
    return 0 if good and max(outcome.shown_s, default=0.0) <= ALLOWED_S else 1


if __name__ == "__main__":
    sys.exit(main())
