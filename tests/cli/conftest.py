"""The small sample farm, and a place to type commands."""

import pytest

from tests.builders.sample_farm import sample_file, sample_ledger, small_sample_file
from tests.cli.commanding import Shell

__all__ = ["sample_file", "sample_ledger", "shell", "small_sample_file"]


@pytest.fixture
def shell(capsys: pytest.CaptureFixture[str]) -> Shell:
    """Type a command: ``shell("check", file)``."""
    return Shell(capsys)
