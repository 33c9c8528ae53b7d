"""The words of the trade in the window: on F1 twice, by their own chord, from the search; none missing from a head."""

from __future__ import annotations

import re
from importlib import import_module
from pkgutil import walk_packages
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from beeledger.queries.glossary import glossary
from beeledger.ui.frame.registry import PLACES
from beeledger.ui.frame.window import Window
from beeledger.ui.places import __path__ as places_path
from beeledger.ui.widgets.cells import Column
from tests.ui.frame.conftest import settle

PLAIN = frozenset(
    [
        "acquired",
        "and",
        "drive",
        "heading",
        "holds",
        "act",
        "active",
        "all",
        "as",
        "at",
        "back",
        "boxes",
        "bought",
        "came",
        "card",
        "column",
        "count",
        "counted",
        "day",
        "delivered",
        "document",
        "driver",
        "emerged",
        "empty",
        "ended",
        "expires",
        "extractor",
        "finisher",
        "for",
        "found",
        "from",
        "full",
        "given",
        "grafted",
        "home",
        "how",
        "hives",
        "in",
        "initials",
        "item",
        "jars",
        "kept",
        "kind",
        "km",
        "last",
        "late",
        "least",
        "left",
        "least",
        "likely",
        "looked",
        "made",
        "mark",
        "marks",
        "may",
        "carry",
        "mean",
        "mend",
        "met",
        "missing",
        "most",
        "name",
        "named",
        "needed",
        "no",
        "not",
        "note",
        "number",
        "of",
        "off",
        "on",
        "or",
        "order",
        "out",
        "over",
        "paper",
        "parent",
        "place",
        "places",
        "price",
        "product",
        "quantity",
        "ready",
        "registration",
        "row",
        "rows",
        "runs",
        "said",
        "sealed",
        "sent",
        "share",
        "sheet",
        "since",
        "size",
        "sold",
        "starts",
        "state",
        "substance",
        "sum",
        "taken",
        "telephone",
        "tank",
        "the",
        "them",
        "there",
        "they",
        "this",
        "time",
        "to",
        "told",
        "type",
        "unit",
        "until",
        "used",
        "vans",
        "vehicle",
        "visit",
        "visits",
        "weak",
        "week",
        "weight",
        "what",
        "where",
        "which",
        "who",
        "why",
        "with",
        "work",
        "year",
        "farm",
        "fill",
        "it",
        "is",
        "was",
        "done",
        "by",
        "came",
    ]
)
"""Plain English in heads of columns: who reads English knows them."""


def heads() -> set[str]:
    """The title of every column that any place declares."""
    found: set[str] = set()
    for info in walk_packages(places_path, "beeledger.ui.places."):
        for value in vars(import_module(info.name)).values():
            found |= {column.title for column in _columns(value)}
    return found


def _columns(value: object) -> list[Column]:
    if isinstance(value, Column):
        return [value]
    return [each for each in value if isinstance(each, Column)] if isinstance(value, tuple) else []


def _known() -> set[str]:
    names = [name for one in glossary().words for name in (one.word, *one.also)]
    return {part for name in names for part in name.casefold().split()}


def test_every_word_that_heads_a_column_is_in_the_glossary_or_plain_english():
    words = {part for head in heads() for part in re.findall(r"[a-z]+", head.casefold())}
    known = _known() | PLAIN
    assert len(words) > 60
    assert sorted(w for w in words if not {w, w.removesuffix("s"), f"{w}s"} & known) == []


def test_the_places_a_word_is_met_in_are_places_of_the_window():
    titles = {entry.title for entry in PLACES}
    met = {place for one in glossary().words for place in one.where.split(", ")}
    assert met - titles == set()


def test_f1_twice_shows_the_words_and_a_third_time_folds_them_away(window: Window, qtbot: Any):
    for _ in range(2):
        QTest.keyClick(window, Qt.Key.Key_F1)
    words = window.help.words
    assert words.isVisible()
    assert len(words.shown()) == len(glossary().words)
    QTest.keyClicks(words.filter.editor, "superse")
    assert [one.word for one in words.shown()] == ["supersedure"]
    assert "without swarming" in words.text.text()
    QTest.keyClick(window, Qt.Key.Key_F1)
    assert not window.help.isVisible()


def test_a_word_typed_in_the_search_leads_to_what_it_means(window: Window, qtbot: Any):
    QTest.keyClick(window, Qt.Key.Key_K, Qt.KeyboardModifier.ControlModifier)
    QTest.keyClicks(window.top.search, "heft")
    settle(qtbot, window.desk)
    assert [(hit.kind, hit.name) for hit in window.search.hits] == [("word", "heft")]
    QTest.keyClick(window.top.search, Qt.Key.Key_Return)
    assert window.help.isVisible()
    assert window.help.words.filter.value() == "heft"
    QTest.keyClick(window.help.words.filter.editor, Qt.Key.Key_Escape)
    assert not window.help.isVisible()
