"""The tokens of the look, light and dark, and how they are put on the application.

Every colour of the window stands here and nowhere else. Sizes follow the base text size.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from functools import cache
from typing import Literal

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QFont, QFontDatabase, QFontMetrics, QGuiApplication, QPalette
from PySide6.QtWidgets import QApplication

from beeledger.base.resources import resource

FAMILY = "Inter"
_FACES = ("Regular", "Medium", "SemiBold", "Bold")
DEFAULT_BASE_PT = 9.75

Token = Literal[
    "window", "paper", "sunk", "hover", "band", "line", "line5", "edge", "ink", "ink2", "ink3",
    "accent", "accentink", "accentsoft", "accentline", "now", "nowsoft", "watch", "watchsoft",
    "good", "goodsoft", "info", "infosoft", "c1", "c2", "c3", "c4",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Look:
    """One set of tokens; each is a hex colour."""

    name: str
    window: str
    paper: str
    sunk: str
    hover: str
    band: str
    line: str
    line5: str
    edge: str
    ink: str
    ink2: str
    ink3: str
    accent: str
    accentink: str
    accentsoft: str
    accentline: str
    now: str
    nowsoft: str
    watch: str
    watchsoft: str
    good: str
    goodsoft: str
    info: str
    infosoft: str
    c1: str
    c2: str
    c3: str
    c4: str

    def colour(self, token: str) -> QColor:
        """The colour of a token by its name."""
        return _colour(str(getattr(self, token)))


LIGHT = Look(
    name="light", window="#E9ECE8", paper="#FCFDFB", sunk="#F3F5F1", hover="#EDF0EB", band="#EEF1EC",
    line="#E2E6E0", line5="#BEC6BE", edge="#78837B", ink="#19201C", ink2="#46514A", ink3="#5B6660",
    accent="#74366B", accentink="#FFFFFF", accentsoft="#F3E7F1", accentline="#B584AC", now="#A4231B",
    nowsoft="#FBE9E6", watch="#80520A", watchsoft="#F9EFD9", good="#266437", goodsoft="#E4F1E6",
    info="#2A5A86", infosoft="#E4EEF6", c1="#0B4373", c2="#B2501A", c3="#2E8A78", c4="#9C58B0",
)  # fmt: skip
DARK = Look(
    name="dark", window="#121614", paper="#191E1C", sunk="#1F2523", hover="#262D2A", band="#1F2523",
    line="#2A322E", line5="#48534D", edge="#74807A", ink="#E7EBE8", ink2="#B4BEB7", ink3="#8F9A93",
    accent="#DDA6D2", accentink="#2B1027", accentsoft="#3A2938", accentline="#8A5F82", now="#F29A90",
    nowsoft="#3D2321", watch="#E2B662", watchsoft="#362C18", good="#8AC898", goodsoft="#1D3125",
    info="#90BCE2", infosoft="#1D2D3A", c1="#4A97F0", c2="#FB9864", c3="#BFE6D8", c4="#8F7E96",
)  # fmt: skip

QUEEN_MARKS = {
    "white": "#FFFFFF",
    "yellow": "#F4C414",
    "red": "#D0312B",
    "green": "#2C9A4B",
    "blue": "#2D6BD1",
}
"""The international marking colours; the same in both looks and used for nothing else."""

Role = Literal["card", "place", "quick", "base", "small"]
_FACTOR: dict[str, float] = {"card": 1.54, "place": 1.38, "quick": 1.15, "base": 1.0, "small": 0.92}
SMALLEST_PT = 9.0


@dataclass(slots=True)
class _State:
    look: Look = LIGHT
    base_pt: float = DEFAULT_BASE_PT


_state = _State()


def current() -> Look:
    """The look in force."""
    return _state.look


def base_pt() -> float:
    """The base text size in points."""
    return _state.base_pt


def px(units: float) -> int:
    """A length given for the base size of 13 px, scaled with the text size in force."""
    return max(1, round(units * _state.base_pt / DEFAULT_BASE_PT))


def font(role: Role = "base", weight: int = 400) -> QFont:
    """The font of a role: tabular figures and the tailed l on, no hinting."""
    return QFont(_font(role, weight, _state.base_pt))


def metrics(role: Role = "base", weight: int = 400) -> QFontMetrics:
    """Metrics of a role's font, cached."""
    return _metrics(role, weight, _state.base_pt)


def row_height(*, grid: bool = False) -> int:
    """Height of a row of the entry grid or of a table."""
    base_px = _state.base_pt * 4 / 3
    return max(20, round(1.54 * base_px)) + (0 if grid else 2)


@cache
def _colour(text: str) -> QColor:
    return QColor(text)


@cache
def _font(role: str, weight: int, base: float) -> QFont:
    face = QFont(FAMILY)
    face.setPointSizeF(max(SMALLEST_PT, base * _FACTOR[role]))
    face.setWeight(QFont.Weight(weight))
    face.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    for feature in ("tnum", "cv05"):
        face.setFeature(QFont.Tag(feature), 1)
    return face


@cache
def _metrics(role: str, weight: int, base: float) -> QFontMetrics:
    return QFontMetrics(_font(role, weight, base))


def load_fonts() -> None:
    """Make the bundled faces known; RuntimeError when one is missing or not taken."""
    for face in _FACES:
        path = resource("fonts", f"Inter-{face}.ttf")
        if QFontDatabase.addApplicationFont(str(path)) < 0:
            raise RuntimeError(f"the font {path.name} could not be loaded")
    if FAMILY not in QFontDatabase.families():
        raise RuntimeError("the font family Inter is missing")


def desktop_look() -> Look:
    """The look the desktop asks for; light where it does not tell."""
    scheme = QGuiApplication.styleHints().colorScheme()
    return DARK if scheme == Qt.ColorScheme.Dark else LIGHT


def apply(app: QApplication, look: Look, base: float = DEFAULT_BASE_PT) -> None:
    """Put ``look`` and the base size on ``app``: style, palette, font, the small style sheet."""
    _state.look = look
    _state.base_pt = base
    app.setStyle("Fusion")
    app.setPalette(_palette(look))
    app.setFont(font())
    app.setStyleSheet(_sheet(look))


def _palette(look: Look) -> QPalette:
    palette = QPalette()
    role = QPalette.ColorRole
    tokens = {
        role.Window: "paper", role.WindowText: "ink", role.Base: "paper", role.AlternateBase: "sunk",
        role.Text: "ink", role.Button: "paper", role.ButtonText: "ink", role.BrightText: "now",
        role.Highlight: "accentsoft", role.HighlightedText: "ink", role.Accent: "accent",
        role.PlaceholderText: "ink3", role.ToolTipBase: "paper", role.ToolTipText: "ink", role.Link: "accent",
        role.LinkVisited: "accent", role.Light: "paper", role.Midlight: "hover", role.Mid: "line5",
        role.Dark: "edge", role.Shadow: "line5",
    }  # fmt: skip
    for group in (QPalette.ColorGroup.Active, QPalette.ColorGroup.Inactive, QPalette.ColorGroup.Disabled):
        for which, token in tokens.items():
            palette.setColor(group, which, look.colour(token))
    for which in (role.WindowText, role.Text, role.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, which, look.colour("ink2"))
    return palette


_SHEET = """
QLineEdit, QComboBox, QDateEdit, QSpinBox, QPlainTextEdit, QTextEdit {
    background: $paper; color: $ink; border: 1px solid $edge; border-radius: 3px; padding: 2px 7px;
    selection-background-color: $accentsoft; selection-color: $ink; }
QLineEdit:focus, QComboBox:focus, QDateEdit:focus, QSpinBox:focus, QPlainTextEdit:focus, QTextEdit:focus {
    border: 2px solid $accent; padding: 1px 6px; }
QLineEdit[state="now"], QComboBox[state="now"], QPlainTextEdit[state="now"] { border: 2px solid $now; padding: 1px 6px; }
QLineEdit[state="watch"], QComboBox[state="watch"], QPlainTextEdit[state="watch"] { border: 2px solid $watch; padding: 1px 6px; }
QComboBox::drop-down { border: 0; width: 24px; }
QComboBox::down-arrow { image: none; }
QComboBox QAbstractItemView { background: $paper; border: 1px solid $edge; outline: 0; }
QPushButton { background: $paper; color: $ink; border: 1px solid $edge; border-radius: 3px; padding: 4px 10px; }
QPushButton:hover { background: $hover; }
QPushButton:focus { border: 2px solid $accent; padding: 3px 9px; }
QPushButton:disabled { background: $line5; color: $ink2; border: 1px solid $line5; }
QPushButton[main="true"] { background: $accent; color: $accentink; border: 1px solid $accent; font-weight: 600; }
QPushButton[main="true"]:focus { border: 2px solid $ink; }
QPushButton[main="true"]:disabled { background: $line5; color: $ink2; border: 1px solid $line5; }
QPushButton[quiet="true"] { background: transparent; color: $accent; border: 1px solid transparent; padding: 4px 3px; }
QPushButton[quiet="true"]:focus { border: 2px solid $accent; padding: 3px 2px; }
QPushButton[quiet="true"]:disabled { color: $ink3; }
QMenu { background: $paper; color: $ink; border: 1px solid $edge; padding: 4px 0; }
QMenu::item { padding: 4px 20px; }
QMenu::item:selected { background: $accentsoft; color: $ink; }
QToolTip { background: $paper; color: $ink; border: 1px solid $edge; padding: 3px 6px; }
QScrollBar:vertical { background: transparent; width: 10px; margin: 0; }
QScrollBar:horizontal { background: transparent; height: 10px; margin: 0; }
QScrollBar::handle { background: $line5; border-radius: 3px; min-height: 28px; min-width: 28px; margin: 2px; }
QScrollBar::handle:hover { background: $edge; }
QScrollBar::add-line, QScrollBar::sub-line, QScrollBar::add-page, QScrollBar::sub-page { background: none; width: 0; height: 0; }
"""


def _sheet(look: Look) -> str:
    sheet = _SHEET
    for field in sorted((f.name for f in fields(look)), key=len, reverse=True):
        sheet = sheet.replace(f"${field}", str(getattr(look, field)))
    return sheet
