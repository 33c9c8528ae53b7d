"""``beeledger sample``: the sample farm built into an empty ledger; and kept ready for ``open --sample-copy``."""

from __future__ import annotations

import argparse
import hashlib
import shutil
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from beeledger.base.clock import DEFAULT_ZONE, CarriedClock, local_moment
from beeledger.base.errors import CannotNow
from beeledger.base.paths import desk_folder
from beeledger.base.text import counted
from beeledger.cli.answering import DONE, Voice
from beeledger.cli.commands import EVENING, Commands, add_command, add_ledger, opened

if TYPE_CHECKING:
    from beeledger.sample import Scenario

COPY = "sample copy.beeledger"


def add_commands(commands: Commands) -> None:
    """Add ``sample``."""
    command = add_command(
        commands,
        "sample",
        run,
        "Build the sample farm: an invented farm that lived its years through the acts of this program.",
        "beeledger sample --into sample.beeledger --colonies 420 --sites 24 --years 3",
    )
    add_ledger(command, "--into", "an empty ledger, or one that is not there yet")
    for name, about in (
        ("colonies", "living at the end"),
        ("sites", "in all"),
        ("years", "seasons, the running one included"),
        ("seed", "another farm of the same kind"),
    ):
        command.add_argument(f"--{name}", type=int, metavar="N", help=about)


def run(chosen: argparse.Namespace, voice: Voice) -> int:
    """Build the sample; refused for a ledger that holds anything."""
    from beeledger.sample import build_sample, read_scenario

    try:
        scenario = read_scenario(colonies=chosen.colonies, sites=chosen.sites, seasons=chosen.years)
    except ValueError as error:
        raise CannotNow(f"{str(error).capitalize()}.", "Ask for a larger one.") from error
    with opened(chosen, create=True) as ledger:
        if ledger.last_act():
            raise CannotNow("This ledger is in use.", "Build the sample into an empty one.")
        built = build_sample(ledger, scenario, chosen.seed, told())
    data = {
        "ledger": chosen.ledger,
        "today": built.today.isoformat(),
        "sites": built.sites,
        "colonies": built.colonies,
        "rounds": built.rounds,
        "acts": built.acts,
    }
    size = f"{counted(built.colonies, 'colony', 'colonies')} on {counted(built.sites, 'site')}"
    words = f"Built {chosen.ledger}: {size}, {counted(built.rounds, 'round')}. It lives on {built.today}."
    voice.answer(data, words)
    return DONE


def told() -> Callable[[int, int], None]:
    """Tells how far the building is on the error stream, where somebody looks at it."""
    last = -1

    def tell(passed: int, total: int) -> None:
        nonlocal last
        share = 100 * passed // total
        if share > last and sys.stderr.isatty():
            last = share
            end = "\n" if share == 100 else ""
            print(f"\rBuilding the sample farm: {share} %", end=end, file=sys.stderr, flush=True)

    return tell


def ready_sample() -> tuple[Path, Scenario]:
    """The sample farm as it is shipped, built into this desk's folder if it is not there."""
    from beeledger.database.opening import open_ledger
    from beeledger.sample import build_sample, read_scenario
    from beeledger.sample.scenario import FOLDER

    scenario = read_scenario()
    kept = desk_folder() / f"sample {_print_of(FOLDER)}.beeledger"
    if not kept.exists():
        part = kept.with_suffix(".part")
        remove(part)
        print("Building the sample farm; once, about half a minute ...", file=sys.stderr, flush=True)
        ledger = open_ledger(part, sample_clock(scenario))
        try:
            build_sample(ledger, scenario, progress=told())
        finally:
            ledger.close()
        part.replace(kept)
    return kept, scenario


def sample_copy(folder: Path) -> tuple[Path, CarriedClock]:
    """A fresh copy of the sample farm in ``folder``, and the clock it lives by."""
    kept, scenario = ready_sample()
    copy = folder / COPY
    remove(copy)
    shutil.copyfile(kept, copy)
    return copy, sample_clock(scenario)


def sample_clock(scenario: Scenario) -> CarriedClock:
    """A clock that begins on the evening on which the sample ends."""
    return CarriedClock(local_moment(scenario.today, EVENING, DEFAULT_ZONE))


def remove(ledger: Path) -> None:
    """Take away a ledger that is only a copy, with what SQLite keeps beside it."""
    for end in ("", "-wal", "-shm"):
        ledger.with_name(ledger.name + end).unlink(missing_ok=True)


def _print_of(folder: Path) -> str:
    """What changes when the scenario, the generator or the schema does."""
    from beeledger import database, sample

    schema = Path(database.__file__).parent / "migrations" / "versions"
    files = (*folder.glob("*.toml"), *Path(sample.__file__).parent.glob("*.py"), *schema.glob("*.py"))
    whole = hashlib.sha256()
    for file in sorted(files):
        whole.update(file.read_bytes())
    return whole.hexdigest()[:12]
