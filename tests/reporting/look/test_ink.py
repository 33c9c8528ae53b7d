"""The inks of paper are the light look's tokens, and legible."""

from __future__ import annotations

import pytest

from beeledger.reporting.look import ink


@pytest.mark.parametrize(
    "name",
    [
        "ink",
        "ink2",
        "ink3",
        "edge",
        "accent",
        "now",
        "watch",
        "good",
        "info",
        "nowsoft",
        "c1",
        "c2",
        "c3",
        "c4",
    ],
)
def test_paper_and_screen_mean_the_same_by_a_colour(name):
    from beeledger.ui.widgets import look

    assert getattr(look.LIGHT, name) == ink.INKS[name]


@pytest.mark.parametrize("name", ["ink", "ink2", "ink3", "accent", "now", "watch", "good", "info"])
def test_every_ink_for_text_reads_easily_on_white(name):
    # WCAG 2.2, 1.4.3: at least 4.5 to 1
    assert ink.contrast(name, "paper") >= 4.5


def test_contrast_is_21_for_black_on_white_and_4_48_for_the_grey_of_the_examples(monkeypatch):
    # WCAG 2.2: black on white is 21:1; #777777 on white is 4.48:1 (the W3C's own failing example)
    monkeypatch.setitem(ink.INKS, "ink", "#000000")
    assert ink.contrast("ink", "paper") == pytest.approx(21.0)
    monkeypatch.setitem(ink.INKS, "ink", "#777777")
    assert ink.contrast("paper", "ink") == pytest.approx(4.48, abs=0.005)
