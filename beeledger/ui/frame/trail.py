"""The way taken through the places: back and forward."""

from __future__ import annotations

LONGEST = 100
Step = tuple[str, object]


class Trail:
    """Places with what was shown in them; going somewhere new forgets what lay ahead."""

    def __init__(self) -> None:
        self._steps: list[Step] = []
        self._at = -1

    def went(self, key: str, what: object) -> None:
        """Remember a step; the same step twice is one."""
        if self._at >= 0 and self._steps[self._at] == (key, what):
            return
        del self._steps[self._at + 1 :]
        self._steps.append((key, what))
        del self._steps[:-LONGEST]
        self._at = len(self._steps) - 1

    def can(self, step: int) -> bool:
        """Whether there is anything back (-1) or forward (1)."""
        return 0 <= self._at + step < len(self._steps)

    def go(self, step: int) -> Step:
        """Step back or forward; IndexError when there is nothing there."""
        if not self.can(step):
            raise IndexError(step)
        self._at += step
        return self._steps[self._at]
