"""The tokens can be read, told apart, and stand in one place only."""

from __future__ import annotations

import itertools
import re
import sys
from pathlib import Path

import pytest
from PySide6.QtGui import QFontInfo
from PySide6.QtWidgets import QLabel

import beeledger.ui
from beeledger.ui.widgets import look
from beeledger.ui.widgets.marks import Mark
from tests.ui.widgets.colours import UNSEEN, contrast, difference, lab, linear, seen_by

LOOKS = (look.LIGHT, look.DARK)
TEXT = ("ink", "ink2", "ink3", "accent", "now", "watch", "good", "info")
GROUNDS = ("paper", "sunk", "window", "accentsoft", "hover", "band")
CHARTS = ("c1", "c2", "c3", "c4")

each_look = pytest.mark.parametrize("tokens", LOOKS, ids=lambda tokens: tokens.name)


def test_the_contrast_formula_gives_the_published_figures() -> None:
    # WCAG 2: black on white is 21; #767676 is the palest grey that passes 4.5 on white (4.54), #777777 is not.
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21.0)
    assert contrast("#767676", "#FFFFFF") == pytest.approx(4.54, abs=0.005)
    assert contrast("#777777", "#FFFFFF") < 4.5


def test_the_colour_difference_gives_the_published_figures() -> None:
    # sRGB primaries in CIE L*a*b* under D65, as any colour table prints them.
    assert lab(linear("#FF0000")) == pytest.approx((53.24, 80.09, 67.20), abs=0.02)
    assert lab(linear("#0000FF")) == pytest.approx((32.30, 79.19, -107.86), abs=0.02)
    assert lab(linear("#FFFFFF")) == pytest.approx((100.0, 0.0, 0.0), abs=0.02)


@pytest.mark.parametrize("kind", UNSEEN)
def test_grey_stays_grey_to_every_eye(kind: str) -> None:
    for row in UNSEEN[kind]:
        assert sum(row) == pytest.approx(1.0, abs=2e-6)
    assert seen_by(kind, "#808080") == pytest.approx(linear("#808080"), abs=1e-4)


def test_red_and_green_come_nearer_to_who_lacks_a_cone() -> None:
    plain = difference(linear("#B40000"), linear("#5A6E00"))
    assert difference(seen_by("protan", "#B40000"), seen_by("protan", "#5A6E00")) < plain / 2
    assert difference(seen_by("deutan", "#B40000"), seen_by("deutan", "#5A6E00")) < plain / 2


@each_look
@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("ink", TEXT)
def test_every_ink_can_be_read_on_every_ground(tokens: look.Look, ink: str, ground: str) -> None:
    assert contrast(getattr(tokens, ink), getattr(tokens, ground)) >= 4.5


@each_look
@pytest.mark.parametrize("state", ["now", "watch", "good", "info"])
def test_a_state_can_be_read_on_its_own_ground(tokens: look.Look, state: str) -> None:
    soft = getattr(tokens, f"{state}soft")
    assert contrast(getattr(tokens, state), soft) >= 4.5
    assert contrast(tokens.ink, soft) >= 4.5
    assert contrast(tokens.ink3, soft) >= 4.5


@each_look
def test_the_words_of_a_button_can_be_read_on_and_off(tokens: look.Look) -> None:
    assert contrast(tokens.accentink, tokens.accent) >= 4.5
    # WCAG 2 excepts what is switched off; it is still held to the 3.0 of edges.
    assert contrast(tokens.ink2, tokens.line5) >= 3.0


@each_look
@pytest.mark.parametrize("ground", ["paper", "sunk", "accentsoft"])
def test_edges_and_marks_stand_out(tokens: look.Look, ground: str) -> None:
    for token in ("edge", "accent", *{mark.token for mark in Mark}):
        assert contrast(getattr(tokens, token), getattr(tokens, ground)) >= 3.0, token


@each_look
def test_a_chip_that_is_on_has_an_edge_one_can_see(tokens: look.Look) -> None:
    assert contrast(tokens.accentline, tokens.paper) >= 2.95  # 3.0 as the look gives it, to one decimal


@each_look
@pytest.mark.parametrize("ground", ["paper", "sunk"])
def test_chart_colours_stand_out(tokens: look.Look, ground: str) -> None:
    for token in CHARTS:
        assert contrast(getattr(tokens, token), getattr(tokens, ground)) >= 3.0, token


@each_look
@pytest.mark.parametrize("kind", UNSEEN)
def test_chart_colours_are_told_apart_without_one_kind_of_cone(tokens: look.Look, kind: str) -> None:
    for one, other in itertools.combinations(CHARTS, 2):
        seen = [seen_by(kind, getattr(tokens, token)) for token in (one, other)]
        assert difference(*seen) >= 18, (one, other)


def test_no_colour_is_written_outside_the_token_module() -> None:
    folder = Path(beeledger.ui.__file__).parent
    files = [file for file in folder.rglob("*.py") if file != folder / "widgets" / "look.py"]
    assert len(files) > 20
    found = [
        f"{file.relative_to(folder)}: {text}"
        for file in files
        for text in re.findall(r"#[0-9A-Fa-f]{6}\b|#[0-9A-Fa-f]{3}\b(?=[\"'])", file.read_text("utf-8"))
    ]
    assert found == []
    assert re.search(r"#[0-9A-Fa-f]{6}\b", (folder / "widgets" / "look.py").read_text("utf-8"))


def test_nothing_is_smaller_than_nine_points(qapp: object) -> None:
    for base in (9.0, look.DEFAULT_BASE_PT, 16.0):
        for role in ("card", "place", "quick", "base", "small"):
            assert look._font(role, 400, base).pointSizeF() >= look.SMALLEST_PT


def test_the_bundled_face_is_the_one_that_is_drawn(qapp: object) -> None:
    for weight in (400, 500, 600, 700):
        info = QFontInfo(look.font("base", weight))
        assert (info.family(), info.weight()) == (look.FAMILY, weight)


def test_figures_are_as_wide_as_one_another(qapp: object) -> None:
    metrics = look.metrics("base", 600)
    assert len({metrics.horizontalAdvance(digit * 8) for digit in "0123456789"}) == 1


def test_words_set_a_thousand_times_cost_no_reference_of_none(qapp: object, qtbot: object) -> None:
    # A binding that loses a reference of None at each call ends the process after some thousand calls.
    label = QLabel()
    qtbot.addWidget(label)
    before = sys.getrefcount(None)
    for number in range(1000):
        label.setText(str(number))
    assert sys.getrefcount(None) - before > -100
