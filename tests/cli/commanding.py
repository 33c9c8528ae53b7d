"""Commands as a person types them: the exit code, what was said, what was said on the error stream."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any

import pytest

from beeledger.cli.main import main


@dataclass(frozen=True, slots=True)
class Answer:
    """What a command came to."""

    code: int
    out: str
    err: str

    @property
    def data(self) -> Any:
        """The JSON object it answered with."""
        return json.loads(self.out)


@dataclass(frozen=True, slots=True)
class Shell:
    """Runs commands."""

    capture: pytest.CaptureFixture[str]

    def __call__(self, *words: object) -> Answer:
        """Run ``beeledger`` with these words; a wrong usage comes back as its code."""
        try:
            code = main([str(word) for word in words])
        except SystemExit as left:
            code = int(left.code or 0)
        said = self.capture.readouterr()
        return Answer(code, said.out, said.err)
