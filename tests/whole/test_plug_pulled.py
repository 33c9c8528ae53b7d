"""The plug pulled while somebody types: whatever key it was, the draft comes back as it stood.

Ten kills in the suite; more by hand: ``BEELEDGER_KILLS=200 pytest tests/whole/test_plug_pulled.py``.
"""

from __future__ import annotations

import os
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path
from random import Random

import pytest

from beeledger.base.clock import FixedClock
from beeledger.database.checking.check import check_ledger
from beeledger.database.opening import open_ledger
from beeledger.operations.drafts import DraftStore
from tests.builders.yards import strips, yard
from tests.whole.typing_child import mark_of

KILLS = int(os.environ.get("BEELEDGER_KILLS", "10"))
ROOT = Path(__file__).resolve().parents[2]
CLOCK = FixedClock(datetime(2026, 5, 14, 18, 0, tzinfo=UTC))


@pytest.fixture(scope="module")
def target(tmp_path_factory: pytest.TempPathFactory) -> str:
    file = tmp_path_factory.mktemp("plug") / "farm.beeledger"
    ledger = open_ledger(str(file), CLOCK)
    strips(ledger)
    yard(ledger, "Fen End", *[str(number) for number in range(301, 321)])
    ledger.close()
    return str(file)


def typed_until_killed(target: str, seed: int, folder: Path, keys: int) -> list[str]:
    """Start the desk, let it be typed at, kill it without a word after so many keys; the marks it told."""
    environment = {**os.environ, "BEELEDGER_DESK": str(folder), "PYTHONPATH": str(ROOT)}
    child = subprocess.Popen(
        [sys.executable, "-m", "tests.whole.typing_child", target, str(seed)],
        cwd=ROOT, env=environment, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True,
    )  # fmt: skip
    assert child.stdout is not None
    told = []
    for line in child.stdout:
        told.append(line.split()[1])
        if len(told) >= keys:
            break
    child.kill()  # SIGKILL: nothing in it runs any more
    rest, _ = child.communicate()
    return told + [
        line.split()[1]
        for line in rest.splitlines()
        if len(line.split()) == 2 and line.endswith(tuple("0123456789abcdef"))
    ]


@pytest.mark.parametrize("seed", range(KILLS))
def test_a_draft_killed_at_any_key_comes_back_as_it_stood(target: str, seed: int, desk_folder: Path):
    folder = desk_folder / "killed"
    keys = Random(seed).randint(5, 90)
    told = typed_until_killed(target, seed, folder, keys)
    assert len(told) >= keys, "the desk ended by itself"
    store = DraftStore(folder, target, CLOCK)
    (draft,) = store.drafts("round")
    store.close()
    kept = mark_of(draft.body["lines"])
    if kept != told[-1]:  # killed between keeping a key and telling of it: the next key of the same typing
        again = typed_until_killed(target, seed, desk_folder / "again", len(told) + 1)
        assert kept == again[len(told)]
    reopened(target, draft.body, kept)


def reopened(target: str, body: dict[str, object], kept: str) -> None:
    """The draft, read back into a sheet beside the record, says the same."""
    from beeledger.queries.round_start import desk_sheet
    from beeledger.ui.places.rounds.drafts import opened

    ledger = open_ledger(target, CLOCK)
    one = opened(body)
    with ledger.read() as session:
        read = desk_sheet(session, one.head.site_id, one.head.on, one.colonies())
    sheet = one.take_sheet(read)
    assert mark_of(sheet.body()["lines"]) == kept
    assert check_ledger(ledger).findings == ()
    ledger.close()
