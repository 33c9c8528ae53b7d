"""The map from screen to file in DEVELOPERS.md, made from what each place says of itself.

The docstring of ``ui/places/<place>/place.py`` begins with the place's title and a colon, and has lines

    Reads: queries.moves.log
    Acts: operations.moves.post_move
    Computes: rules.moves.check_move
    Prints: documents.movement_report

each with one or more names divided by commas, or "nothing". Names are meant from the top of the package;
``documents`` stands for ``reporting.documents``.
"""

from __future__ import annotations

import ast
import importlib
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
BEGIN = "<!-- map: made by packaging/map -->"
END = "<!-- end of map -->"
KINDS = ("Reads", "Acts", "Computes", "Prints")
FLOORS = {"Reads": "queries", "Acts": "operations", "Computes": "rules", "Prints": "documents"}
HEADS = ("you see", "window code", "read", "act", "computation", "table", "document", "test")


class MapFault(Exception):
    """A place does not say what it should; the text says which and how to mend it."""


@dataclass(frozen=True, slots=True)
class Place:
    """One place: its folder, the title of its docstring and the names it gives under each kind."""

    folder: str
    title: str
    names: dict[str, tuple[str, ...]]


def places(root: Path = ROOT) -> list[Place]:
    """Every place, by its title."""
    home = root / "beeledger" / "ui" / "places"
    folders = [path for path in home.iterdir() if path.is_dir() and _holds_code(path)]
    return sorted((_place(folder) for folder in folders), key=lambda place: place.title)


def _holds_code(folder: Path) -> bool:
    """Whether a folder is more than an empty package."""
    return any(path.name != "__init__.py" for path in folder.glob("*.py"))


def _place(folder: Path) -> Place:
    file = folder / "place.py"
    if not file.is_file():
        raise MapFault(f"ui/places/{folder.name} has no place.py")
    text = ast.get_docstring(ast.parse(file.read_text(encoding="utf-8"))) or ""
    title, colon, _ = text.partition("\n")[0].partition(":")
    if not colon:
        raise MapFault(
            f'the docstring of ui/places/{folder.name}/place.py begins with no title ("Moves: ...")'
        )
    return Place(folder.name, title, {kind: _names(text, kind) for kind in KINDS})


def _names(text: str, kind: str) -> tuple[str, ...]:
    """The names in the lines that begin with ``kind:``."""
    lines = [
        line.strip().removeprefix(f"{kind}:") for line in text.splitlines() if line.startswith(f"{kind}:")
    ]
    found = tuple(name.strip(" .") for line in lines for name in line.split(",") if name.strip(" ."))
    found = tuple(name for name in found if name != "nothing")
    astray = [name for name in found if name.partition(".")[0] != FLOORS[kind]]
    if astray:
        raise MapFault(f"{kind} names {astray[0]}, which is not of {FLOORS[kind]}")
    return found


def dead_names(place: Place) -> list[str]:
    """The names of a place behind which nothing stands."""
    return [name for names in place.names.values() for name in names if not _stands(name)]


def _stands(name: str) -> bool:
    parts = name.replace("documents.", "reporting.documents.", 1).split(".")
    for cut in range(len(parts), 0, -1):
        module = ".".join(["beeledger", *parts[:cut]])
        try:
            thing: object = importlib.import_module(module)
        except ModuleNotFoundError as missing:
            if missing.name is None or not f"{module}.".startswith(f"{missing.name}."):
                raise
            continue
        for part in parts[cut:]:
            thing = getattr(thing, part, None)
        return thing is not None
    return False


def table(found: list[Place], root: Path = ROOT) -> str:
    """The map as a Markdown table."""
    rows = [HEADS, tuple("---" for _ in HEADS), *(_row(place, root) for place in found)]
    return "\n".join(f"| {' | '.join(row)} |" for row in rows)


def _row(place: Place, root: Path) -> tuple[str, ...]:
    read, act, computed, printed = (_cell(place.names[kind]) for kind in KINDS)
    window = f"`ui/places/{place.folder}/`"
    return place.title, window, read, act, computed, _tables(place, root), printed, _test(place, root)


def _cell(names: tuple[str, ...]) -> str:
    return "<br>".join(f"`{name}`" for name in names)


def _tables(place: Place, root: Path) -> str:
    """The files of ``model`` that have the name of a room the place reads or acts in."""
    rooms = {name.split(".")[1] for kind in ("Reads", "Acts") for name in place.names[kind]}
    files = [room for room in sorted(rooms) if (root / "beeledger" / "model" / f"{room}.py").is_file()]
    return "<br>".join(f"`model/{room}.py`" for room in files)


def _test(place: Place, root: Path) -> str:
    for candidate in (f"tests/ui/places/{place.folder}", f"tests/ui/places/test_{place.folder}.py"):
        if (root / candidate).exists():
            return f"`{candidate}`"
    return ""


def with_map(text: str, made: str) -> str:
    """A text with the map between its two marks replaced."""
    before, begin, rest = text.partition(BEGIN)
    _, end, after = rest.partition(END)
    if not (begin and end):
        raise MapFault("DEVELOPERS.md has lost the marks of the map")
    return f"{before}{BEGIN}\n{made}\n{END}{after}"


def write(root: Path = ROOT) -> bool:
    """Bring the map in DEVELOPERS.md up to date; whether anything changed."""
    page = root / "DEVELOPERS.md"
    before = page.read_text(encoding="utf-8")
    after = with_map(before, table(places(root), root))
    if after != before:
        page.write_text(after, encoding="utf-8")
    return after != before
