"""Habits of the text itself: no machine's paths, no open ends, no silent switching off of checks."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
SUFFIXES = {".py", ".toml", ".md", ".txt", ".json", ".svg", ".csv", ".desktop", ""}

TOP_LEVEL = {
    ".ci", ".gitignore", "beeledger", "resources", "tests", "sample_db", "packaging",
    "pyproject.toml", "README.md", "DEVELOPERS.md", "LICENSE",
}  # fmt: skip
"""What may lie at the top. ``wheels``, ``out`` and ``.venv`` are made there and never kept."""

# Each is put together from pieces, so that this file does not hold what it looks for.
MACHINE_PATH = re.compile(
    r"(?<![\w.])/(?:"
    + "|".join(["ho" + "me", "ro" + "ot", "wo" + "rk", "t" + "mp", "o" + "pt"])
    + r")/|\b[A-Z]:\\+Users"
)
OPEN_END = re.compile(r"\b(?:" + "|".join(["TO" + "DO", "FIX" + "ME", "XX" + "X", "HA" + "CK"]) + r")\b")
NAKED = re.compile(
    r"type: ?ig" + r"nore(?!\[[\w, -]+\]\s+#\s*\w)|#\s*no" + r"qa(?!: ?[A-Z]+\d+)|pragma: no" + " cover"
)
SLEEP = re.compile(r"\b(?:time\.sleep|qWait)\(|\bimport sleep\b|\bQTest\.qSleep\(")
BAD_NAMES = {"utils", "misc", "common", "helpers", "core", "manager"}


def kept_files() -> list[Path]:
    """Every file that is kept under version control or is about to be; all of them where there is no git."""
    command = ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"]
    try:
        done = subprocess.run(command, cwd=ROOT, capture_output=True, check=True)
        names = [name for name in done.stdout.decode().split("\0") if name]
    except (OSError, subprocess.CalledProcessError):
        names = [path.relative_to(ROOT).as_posix() for top in TOP_LEVEL for path in (ROOT / top).rglob("*")]
    return [ROOT / name for name in names if (ROOT / name).is_file() and "__pycache__" not in name]


def found(pattern: re.Pattern[str], files: list[Path]) -> list[str]:
    """Address and text of each line that matches."""
    hits = []
    for path in files:
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1):
            if pattern.search(line):
                hits.append(f"{path.relative_to(ROOT).as_posix()}:{number}: {line.strip()[:90]}")
    return hits


@pytest.fixture(scope="module")
def texts() -> list[Path]:
    """Every kept file that is text."""
    files = [path for path in kept_files() if path.suffix in SUFFIXES]
    assert len(files) > 50
    return files


@pytest.fixture(scope="module")
def programs(texts: list[Path]) -> list[Path]:
    """Every kept file of Python."""
    return [path for path in texts if path.suffix == ".py" or path.parent.name == "packaging"]


def test_no_path_of_one_machine_is_kept(texts):
    assert found(MACHINE_PATH, texts) == []


def test_no_open_end_is_kept(texts):
    assert found(OPEN_END, texts) == []


def test_a_check_is_switched_off_only_by_name_and_for_types_with_a_reason(programs):
    assert found(NAKED, programs) == []


def test_no_test_sleeps(programs):
    assert found(SLEEP, [path for path in programs if "tests" in path.parts]) == []


def test_the_top_of_the_checkout_holds_only_what_belongs_there():
    top = {path.relative_to(ROOT).parts[0] for path in kept_files()}
    assert top <= TOP_LEVEL
    assert {"README.md", "DEVELOPERS.md", "pyproject.toml", "beeledger", "packaging", ".ci"} <= top


def test_no_room_is_named_for_everything(programs):
    assert [path for path in programs if path.stem in BAD_NAMES or path.parent.name in BAD_NAMES] == []


def test_packaging_stays_a_plain_folder_so_that_the_library_of_that_name_is_found():
    assert not (ROOT / "packaging" / "__init__.py").exists()


@pytest.mark.parametrize(
    ("pattern", "bad", "good"),
    [
        (MACHINE_PATH, ["open('/ho" + "me/ann/hives')", '"C:\\\\Us' + 'ers\\\\ann"'], ["/usr/lib/postgresql", "a/wo" + "rk/b"]),
        (OPEN_END, ["# TO" + "DO later"], ["todo_list = []"]),
        (
            NAKED,
            ["x()  # type: ig" + "nore", "x()  # type: ig" + "nore[arg-type]", "import x  # no" + "qa"],
            ["x()  # type: ig" + "nore[arg-type]  # the stub says str, the library takes both", "import x  # no" + "qa: E402"],
        ),
        (SLEEP, ["time.sl" + "eep(1)", "qtbot.qWa" + "it(50)"], ["qtbot.waitUntil(lambda: done)"]),
    ],
)  # fmt: skip
def test_each_habit_sees_what_it_looks_for(pattern, bad, good):
    assert [line for line in bad if not pattern.search(line)] == []
    assert [line for line in good if pattern.search(line)] == []
