"""How the command line explains itself, and what it does with what it does not understand."""

from __future__ import annotations

import subprocess
import sys

import pytest

from beeledger import __version__
from tests.cli.commanding import Shell

COMMANDS = ("open", "sample", "import", "post", "print", "check", "backup", "restore", "headless")


def test_all_commands_are_listed(shell: Shell) -> None:
    answer = shell("--help")
    assert answer.code == 0
    assert [name for name in COMMANDS if f"\n    {name} " not in answer.out] == []


@pytest.mark.parametrize("name", COMMANDS)
def test_each_command_has_an_example_and_answers_in_json(shell: Shell, name: str) -> None:
    answer = shell(name, "--help")
    assert answer.code == 0
    assert f"example: beeledger {name}" in answer.out
    assert "--json" in answer.out


def test_the_version_is_the_packages(shell: Shell) -> None:
    assert shell("--version").out == f"beeledger {__version__}\n"


@pytest.mark.parametrize(
    "words",
    [
        ("fly",),
        ("import", "hives.xlsx"),
        ("print", "poem", "--from", "x"),
        ("check", "x", "--today", "31/02/2026"),
        ("open", "farm.beeledger", "--sample-copy"),
    ],
)
def test_wrong_usage_is_2(shell: Shell, words: tuple[str, ...]) -> None:
    answer = shell(*words)
    assert answer.code == 2
    assert "usage: beeledger" in answer.err


def test_a_command_without_a_window_imports_no_qt() -> None:
    code = "import sys, beeledger.cli.main as m; m.parser(); sys.exit('PySide6' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
