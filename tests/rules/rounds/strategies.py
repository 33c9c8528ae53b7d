"""Entries of every kind, drawn by hypothesis."""

from __future__ import annotations

from dataclasses import fields
from datetime import date
from typing import get_args, get_type_hints

from hypothesis import strategies as st

from beeledger.rules.rounds.entry import Entry, FeedKind, MiteMethod, Split, SplitQueen
from beeledger.rules.rounds.normal import Habits, habits_for, shipped_normals
from beeledger.rules.rounds.plain import CODES

FIGURES = st.one_of(
    st.integers(0, 30), st.integers(-(10**8), 10**8), st.sampled_from((0, 5, 10, 75, 300, 5000, 999_999_999))
)
WORDS = st.one_of(
    st.text(max_size=40),
    st.text(alphabet=";?!\\/\" -+:#'=qnb8.−½é\u0301\u00a0\n", max_size=20),
    st.sampled_from((
        "raise from her", "old? yes", "a ;b ?c !d", "?", "; ?", "\\", "\\;", "\\\\?", '"', "00626", "626", "=1",
    )),
)  # fmt: skip
SPLITS = st.builds(
    Split, WORDS, st.none() | FIGURES, st.none() | FIGURES, st.none() | st.sampled_from(SplitQueen)
)


def _values(name: str, kind: object) -> st.SearchStrategy[object]:
    if name == "split_to":
        return st.lists(SPLITS, max_size=3).map(tuple)
    if name in CODES:
        return st.none() | st.sampled_from(list(CODES[name]))
    plain = get_args(kind)[0]
    return st.none() | {bool: st.booleans(), int: FIGURES, str: WORDS}[plain]


_KINDS = get_type_hints(Entry)
_FIELDS = {field.name: _values(field.name, _KINDS[field.name]) for field in fields(Entry)}
full_entries = st.builds(Entry, **_FIELDS)
few_fields = st.lists(st.sampled_from(sorted(_FIELDS)), max_size=4, unique=True).flatmap(
    lambda names: st.builds(Entry, **{name: _FIELDS[name] for name in names})
)
entries = st.one_of(full_entries, few_fields)

_DAY = date(2026, 5, 14)
habits = st.builds(
    Habits,
    normal=st.sampled_from([normal.entry for normal in shipped_normals()]),
    bare=st.just(habits_for(_DAY).bare),
    stores_in_frames=st.booleans(),
    feed_kind=st.none() | st.sampled_from(FeedKind),
    solid_kind=st.none() | st.sampled_from(FeedKind),
    feed_ml=st.none() | st.just(5000),
    medicine=st.sampled_from((None, "strips A", 'a "b" \\')),
    medicine_count=st.none() | st.integers(1, 4),
    mites_method=st.none() | st.sampled_from(MiteMethod),
    mites_bees=st.none() | st.just(300),
    mites_days=st.none() | st.just(7),
)
