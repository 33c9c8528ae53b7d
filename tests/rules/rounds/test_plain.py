"""An entry as plain values, for drafts."""

from __future__ import annotations

import json

import pytest
from hypothesis import given, settings

from beeledger.rules.rounds.entry import Entry, FeedKind
from beeledger.rules.rounds.plain import as_plain, from_plain
from tests.rules.rounds.strategies import entries


@settings(max_examples=150, deadline=None)
@given(entries)
def test_a_draft_gives_back_what_was_typed(entry: Entry):
    assert from_plain(json.loads(json.dumps(as_plain(entry)))) == entry


def test_only_what_was_typed_is_kept():
    assert as_plain(Entry(brood_tenths=0, feed_kind=FeedKind.FONDANT)) == {
        "brood_tenths": 0,
        "feed_kind": "fondant",
    }


def test_a_field_or_a_word_that_no_entry_knows_is_refused():
    with pytest.raises(ValueError, match="no field wings"):
        from_plain({"wings": 4})
    with pytest.raises(ValueError, match="asleep"):
        from_plain({"outcome": "asleep"})
