"""Count files and functions. As a program it prints the figures: python tests/house/sizes.py"""

from __future__ import annotations

import ast
import statistics
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PLACES = ("beeledger", "packaging", "tests")
FROZEN = {"__pycache__", "versions"}
"""Not counted: migrations, which are written once by a program and never changed."""
Function = ast.FunctionDef | ast.AsyncFunctionDef


@dataclass(frozen=True, slots=True)
class Sizes:
    """Lines of each file and of each function, by its address."""

    files: dict[str, int]
    functions: dict[str, int]
    public_methods: dict[str, int]


def python_files(place: str, root: Path = ROOT) -> list[Path]:
    """The Python files below a folder; in packaging also the commands, which have no ending."""
    found = [path for path in (root / place).rglob("*.py") if not FROZEN.intersection(path.parts)]
    if place == "packaging":
        commands = (path for path in (root / place).iterdir() if path.is_file() and not path.suffix)
        found += [
            path for path in commands if path.read_text(encoding="utf-8").startswith("#!/usr/bin/env python3")
        ]
    return sorted(found)


def measure(place: str, root: Path = ROOT) -> Sizes:
    """The sizes of everything below a folder. Docstrings and comments count: they are read too."""
    sizes = Sizes({}, {}, {})
    for path in python_files(place, root):
        text = path.read_text(encoding="utf-8")
        address = path.relative_to(root).as_posix()
        if text:
            sizes.files[address] = len(text.splitlines())
        for name, node in _defined(ast.parse(text)):
            if isinstance(node, Function):
                sizes.functions[f"{address} {name}"] = _lines(node)
            else:
                sizes.public_methods[f"{address} {name}"] = _public_methods(node)
    return sizes


def _defined(parent: ast.AST, above: str = "") -> Iterator[tuple[str, Function | ast.ClassDef]]:
    """Every function and class below a node, with its dotted name."""
    for node in ast.iter_child_nodes(parent):
        name = above
        if isinstance(node, Function | ast.ClassDef):
            name = f"{above}.{node.name}" if above else node.name
            yield name, node
        yield from _defined(node, name)


def _lines(node: Function) -> int:
    return (node.end_lineno or node.lineno) - node.lineno + 1


def _public_methods(node: ast.ClassDef) -> int:
    """Public methods, without Qt's own names in camel case, which are overridden and not offered."""
    names = (child.name for child in node.body if isinstance(child, Function))
    return sum(1 for name in names if not name.startswith("_") and name.islower())


def percentile(values: list[int], share: int) -> float:
    """The value that ``share`` per cent of ``values`` do not exceed."""
    return (
        statistics.quantiles(values, n=100, method="inclusive")[share - 1] if len(values) > 1 else values[0]
    )


def main() -> None:
    """One line a folder: files and functions, median, 95th percentile and largest."""
    for place in PLACES:
        sizes = measure(place)
        for what, counted in (("files", sizes.files), ("functions", sizes.functions)):
            values = list(counted.values())
            largest = max(counted, key=lambda address: counted[address])
            sys.stdout.write(
                f"{place:10} {len(values):5} {what:9} median {statistics.median(values):5.0f}  "
                f"95% {percentile(values, 95):5.0f}  largest {counted[largest]:4} {largest}\n"
            )


if __name__ == "__main__":
    main()
