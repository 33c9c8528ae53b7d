"""What the program says, sentence under sentence."""

from __future__ import annotations

from typing import Any

from beeledger.base.findings import Finding, Grade, Where
from beeledger.ui.parts.sayings import Sayings
from beeledger.ui.widgets.words import Words

ODD = Finding("move.odd", Grade.DOUBTFUL, "The move is odd", "Look again", Where(field="to"))


def words_in(sayings: Sayings) -> list[str]:
    return [each.text() for each in sayings.findChildren(Words) if not each.isHidden()]


def test_nothing_to_say_takes_no_room(qtbot: Any) -> None:
    sayings = Sayings()
    qtbot.addWidget(sayings)
    sayings.say([])
    assert sayings.isHidden()
    sayings.say([ODD])
    assert not sayings.isHidden()
    assert words_in(sayings) == ["The move is odd. Look again."]
    assert sayings.accessibleName() == "to: The move is odd. Look again."
    sayings.say([])
    assert sayings.isHidden()


def test_beyond_eight_sentences_the_rest_is_counted(qtbot: Any) -> None:
    sayings = Sayings()
    qtbot.addWidget(sayings)
    sayings.say([Finding("x", Grade.NOTED, f"Thing {number}") for number in range(11)])
    assert words_in(sayings)[-2:] == ["Thing 7.", "and 3 more"]
