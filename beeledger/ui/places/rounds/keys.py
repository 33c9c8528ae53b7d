"""The chords of the place: one table for the keys, the list beside the grid and F1."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtGui import QKeyEvent, QKeySequence


@dataclass(frozen=True, slots=True)
class Chord:
    """What is pressed, the command it gives, what it is called, and whether it is listed beside the grid."""

    keys: str
    name: str
    words: str
    beside: bool = False

    @property
    def shown(self) -> str:
        """The keys as they are listed."""
        drawn = self.keys.replace("Return", "↵").replace("Down", "↓").replace("Up", "↑")
        return drawn.replace("+", " ")


CHORDS = (
    Chord("Ctrl+N", "new", "new round"),
    Chord("Ctrl+E", "head", "day, crew and times of the round"),
    Chord("Ctrl+D", "repeat", "same as line above", beside=True),
    Chord("Ctrl+Down", "fill", "fill down a stretch", beside=True),
    Chord("F8", "normal", "normal, also a stretch", beside=True),
    Chord("Ctrl+F8", "normal_rest", "normal, all the rest", beside=True),
    Chord("F7", "site", "the whole site", beside=True),
    Chord("Ctrl+J", "next_empty", "next not filled", beside=True),
    Chord("Ctrl+G", "find", "to a hive, or add it", beside=True),
    Chord("F4", "accept", "accept, looked at", beside=True),
    Chord("Shift+F4", "accept_alike", "the same for all alike"),
    Chord("Ctrl+L", "next_held", "next line that holds the posting"),
    Chord("Ctrl+Z", "undo", "undo", beside=True),
    Chord("Ctrl+Y", "redo", "redo"),
    Chord("F2", "toggle", "line or cells", beside=True),
    Chord("F6", "direction", "Enter goes down or right"),
    Chord("F1", "marks", "the list of marks"),
    Chord("F3", "reading", "what a workbook or a scan left unclear"),
    Chord("Ctrl+R", "reverse", "walked from the far end"),
    Chord("Alt+Shift+Up", "line_up", "the hive earlier in the walk"),
    Chord("Alt+Shift+Down", "line_down", "the hive later in the walk"),
    Chord("Ctrl+Delete", "drop_line", "take off a line that was added"),
    Chord("Ctrl+Return", "post", "post the round", beside=True),
    Chord("Ctrl+Shift+Return", "post_rest", "post the lines that can be"),
    Chord("Ctrl+P", "print", "print the round sheet"),
    Chord("Ctrl+S", "workbook_out", "write the workbook for a tablet"),
    Chord("Ctrl+O", "posted", "a posted round again, to correct it"),
    Chord("Ctrl+Shift+O", "workbook_in", "read a filled workbook"),
    Chord("Ctrl+Shift+S", "scan_in", "read scanned round sheets"),
    Chord("Ctrl+Tab", "next_tab", "next round"),
    Chord("Ctrl+W", "set_aside", "put the round away"),
)
_BY_KEYS = {QKeySequence(chord.keys).toString(): chord.name for chord in CHORDS}
_SAME = {"Ctrl+Enter": "Ctrl+Return", "Ctrl+Shift+Enter": "Ctrl+Shift+Return", "Ctrl+Shift+Z": ""}


def command_of(event: QKeyEvent) -> str:
    """The command a key gives; empty when it gives none."""
    keys = QKeySequence(event.keyCombination()).toString()
    return _BY_KEYS.get(_SAME.get(keys, keys), "")
