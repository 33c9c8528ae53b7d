"""A posting taken back or brought again: one draft says each line, never two and never none."""

from __future__ import annotations

import uuid
from collections.abc import Collection, Mapping, Sequence
from typing import Any

Body = Mapping[str, Any]
Plain = Mapping[str, Any]


def whole_again(body: Body, posted: Collection[int], rest: Body | None) -> dict[str, Any]:
    """The draft as it was posted, with what was left of it since: ``rest`` as it stands now.

    A line that was left and has been settled on its own meanwhile is blank: it stands in the record. The uid went
    into History with the act, so the draft that comes again has one of its own.
    """
    now = {_hive(line): line for line in (rest["lines"] if rest else ()) if says(line)}
    lines: list[Plain] = []
    for row, line in enumerate(body["lines"]):
        if row in posted or not says(line):
            lines.append(line)
        else:
            lines.append(now.pop(_hive(line), _blank(line)))
    return {**body, "head": _renamed(body), "lines": [*lines, *now.values()]}


def left_again(body: Body | None, posted: Sequence[Plain]) -> dict[str, Any] | None:
    """What is left of a draft when its posting is brought again; None when nothing is."""
    if body is None:
        return None
    gone = {_hive(line) for line in posted}
    lines = [line for line in body["lines"] if says(line) and _hive(line) not in gone]
    if not lines:
        return None
    return {**body, "head": _renamed(body), "lines": lines, "place": {"row": 0, "mode": "line", "rest": True}}


def says(line: Plain) -> bool:
    """Whether anything was typed on a kept line."""
    return bool(line.get("typed") or (line.get("text") or "").strip())


def _renamed(body: Body) -> dict[str, Any]:
    return {**body["head"], "uid": uuid.uuid4().hex}


def _hive(line: Plain) -> tuple[Any, Any]:
    return line.get("colony"), line.get("mark")


def _blank(line: Plain) -> Plain:
    return {"mark": line["mark"], "colony": line.get("colony"), "typed": {}}
