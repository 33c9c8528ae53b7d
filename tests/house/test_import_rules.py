"""The import rules hold, and each of them has been seen red on the breach it is there for."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]

# Each breach: what is done, the files that do it (all new, so that nothing else hangs on them), and exactly
# which contracts turn red.
TABLE: list[tuple[str, dict[str, str], list[str]]] = [
    ("nothing", {}, []),
    (
        "a rule imports a query",
        {
            "queries/zz_reads.py": "import sqlalchemy",
            "rules/zz_new.py": "from beeledger.queries import zz_reads",
        },
        ["floors", "pure"],
    ),
    ("a rule imports SQLAlchemy", {"rules/zz_new.py": "import sqlalchemy"}, ["pure"]),
    ("a rule throws dice", {"rules/zz_new.py": "import random"}, ["pure"]),
    ("an operation imports PySide6", {"operations/zz_new.py": "import PySide6.QtCore"}, ["qt-on-top"]),
    (
        "a place imports a table",
        {"model/zz_table.py": "", "ui/places/zz_new/place.py": "from beeledger.model import zz_table"},
        ["tables-behind-the-counter"],
    ),
    (
        "a document imports a table",
        {"model/zz_table.py": "", "reporting/documents/zz_new.py": "from beeledger.model import zz_table"},
        ["tables-behind-the-counter"],
    ),
    ("a place imports SQLAlchemy", {"ui/places/zz_new/place.py": "import sqlalchemy"}, ["no-sql-above"]),
    ("a place imports ReportLab", {"ui/places/zz_new/place.py": "import reportlab"}, ["paper"]),
    (
        "a place imports another place",
        {
            "ui/places/zz_one/place.py": "",
            "ui/places/zz_two/place.py": "from beeledger.ui.places.zz_one import place",
        },
        ["places-apart"],
    ),
    (
        "a widget imports a query",
        {"queries/zz_reads.py": "", "ui/widgets/zz_new.py": "from beeledger.queries import zz_reads"},
        ["plain-widgets"],
    ),
    (
        "a widget imports the desk",
        {"ui/desk/zz_desk.py": "", "ui/widgets/zz_new.py": "from beeledger.ui.desk import zz_desk"},
        ["inside-the-window"],
    ),
    (
        # The frame knows the places and the places the farm: all three are reached through it.
        "a widget imports the frame",
        {
            "queries/zz_reads.py": "",
            "ui/widgets/zz_new.py": "from beeledger.ui.frame import zz_window",
            "ui/frame/zz_window.py": "from beeledger.ui.places.zz_one import place",
            "ui/places/zz_one/place.py": "from beeledger.queries import zz_reads\nfrom beeledger.ui.widgets import zz_new",
            "ui/places/zz_two/place.py": "from beeledger.ui.widgets import zz_new",
        },
        ["inside-the-window", "places-apart", "plain-widgets"],
    ),
    (
        "reporting imports exchange",
        {"exchange/zz_sheet.py": "", "reporting/zz_new.py": "from beeledger.exchange import zz_sheet"},
        ["floors"],
    ),
    (
        "a query imports an operation",
        {"operations/zz_act.py": "", "queries/zz_new.py": "from beeledger.operations import zz_act"},
        ["floors"],
    ),
    ("the sample generator imports PySide6", {"sample/zz_new.py": "import PySide6.QtCore"}, ["qt-on-top"]),
    (
        "two rooms of queries import each other",
        {
            "queries/zz_one.py": "from beeledger.queries import zz_two",
            "queries/zz_two.py": "from beeledger.queries import zz_one",
        },
        ["no-rings"],
    ),
    ("a new package utils", {"utils/zz_new.py": ""}, ["floors"]),
    (
        "a migration imports a table",
        {
            "model/zz_table.py": "",
            "database/migrations/versions/zz_new.py": "from beeledger.model import zz_table",
        },
        ["frozen-migrations"],
    ),
    ("a command imports PySide6", {"cli/zz_new.py": "import PySide6.QtCore"}, ["cli-without-qt"]),
    ("a query throws dice", {"queries/zz_new.py": "import random"}, ["no-dice"]),
    (
        "one room of queries imports another, one way",
        {"queries/zz_one.py": "from beeledger.queries import zz_two", "queries/zz_two.py": ""},
        [],
    ),
    ("the sample generator throws dice", {"sample/zz_new.py": "import random"}, []),
]


@pytest.fixture(scope="module")
def found(tmp_path_factory: pytest.TempPathFactory) -> dict[str, list[str]]:
    """What each breach turned red in a copy of the package as it is today."""
    copy = tmp_path_factory.mktemp("rules")
    shutil.copytree(ROOT / "beeledger", copy / "beeledger", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copyfile(ROOT / "pyproject.toml", copy / "pyproject.toml")
    breaches = {name: {f"beeledger/{file}": text for file, text in files.items()} for name, files, _ in TABLE}
    done = subprocess.run(
        [sys.executable, ROOT / "tests" / "house" / "breaches.py"],
        cwd=copy, input=json.dumps(breaches), capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    answer: dict[str, list[str]] = json.loads(done.stdout)
    return answer


@pytest.mark.parametrize(
    ("name", "expected"), [(name, red) for name, _, red in TABLE], ids=[row[0] for row in TABLE]
)
def test_a_breach_turns_red_exactly_the_contracts_it_breaks(found, name, expected):
    # Against what is red already, so that a real breach is said once: by the first line of the table.
    before = found["nothing"] if name != "nothing" else []
    assert found[name] == sorted({*before, *expected})


def test_every_contract_is_in_the_table_of_breaches():
    import tomllib

    rules = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["importlinter"]
    ids = {contract["id"] for contract in rules["contracts"]}
    assert ids == {contract for _, _, red in TABLE for contract in red}
