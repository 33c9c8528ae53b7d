"""Words, findings and errors as every floor says them."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from beeledger.base.errors import CannotNow, Refused
from beeledger.base.findings import Finding, Grade, Where, gravest, holds
from beeledger.base.text import counted, folded, listed, shortened, tidy


def test_counting_and_listing_in_words() -> None:
    assert [counted(n, "hive") for n in (0, 1, 3, 1150)] == ["0 hives", "1 hive", "3 hives", "1,150 hives"]
    assert counted(2, "colony", "colonies") == "2 colonies"
    assert [listed(words) for words in ((), ("a",), ("a", "b"), ("a", "b", "c"))] == [
        "",
        "a",
        "a and b",
        "a, b and c",
    ]


@given(st.text(), st.integers(1, 40))
def test_shortened_text_never_exceeds_its_length(text: str, length: int) -> None:
    assert len(shortened(text, length)) <= max(length, 1)
    assert shortened(text, len(text)) == text


@given(st.text())
def test_tidying_twice_changes_nothing_more(text: str) -> None:
    once = tidy(text)
    assert tidy(once) == once
    assert not any(unicodedata.category(ch).startswith("C") for ch in once)


def test_names_are_compared_without_case_accents_and_stray_blanks() -> None:
    assert folded(" Tŷ  GWYN ") == folded("ty gwyn") == "ty gwyn"
    assert tidy("gate\x00code\t 12\u200b") == "gate code 12"
    assert tidy("w\u0302") == "ŵ"  # one letter, however it was typed


def test_a_finding_says_where_what_and_how_to_mend() -> None:
    cell = Finding("import.date", Grade.REFUSED, "31/02 is no day", "Write the date again", Where(sheet="Hives", row=43, column="C"))  # fmt: skip
    assert cell.sentence() == "Hives, row 43, column C: 31/02 is no day. Write the date again."
    assert Finding("x", Grade.NOTED, "two queens").sentence() == "two queens."
    assert Where(field="mark", record="hive 7").words() == "mark, hive 7"


def test_the_gravest_finding_counts_and_only_the_forbidden_hold() -> None:
    some = [
        Finding("a", Grade.NOTED, "a"),
        Finding("b", Grade.AGAINST, "b"),
        Finding("c", Grade.DOUBTFUL, "c"),
    ]
    assert gravest(some) is Grade.AGAINST
    assert gravest([]) is None
    assert not holds(some)
    assert holds([*some, Finding("d", Grade.REFUSED, "d")])


def test_errors_carry_their_sentences() -> None:
    full = CannotNow("The disk is full.", "Free some space.")
    assert (str(full), full.sentence, full.remedy) == ("The disk is full. Free some space.", "The disk is full.", "Free some space.")  # fmt: skip
    assert str(CannotNow("Gone.")) == "Gone."
    refusal = Refused(
        [Finding("a", Grade.REFUSED, "no such site"), Finding("b", Grade.AGAINST, "it stood elsewhere")]
    )
    assert str(refusal) == "no such site.\nit stood elsewhere."
    with pytest.raises(AttributeError):
        refusal.findings[0].what = "changed"  # type: ignore[misc]  # that it cannot be changed is the point
