"""The batch record: its shares, its limits and its balance."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO

from openpyxl import load_workbook

from beeledger.reporting.documents.batch_record import balance_words, render_pdf, render_workbook
from beeledger.reporting.look.workbook import HEAD_ROW
from beeledger.reporting.pictures import page_count, page_text
from tests.reporting.examples import FARM, MADE
from tests.reporting.honey_examples import batch


def words_of(record) -> str:
    pdf = render_pdf(record, FARM, MADE)
    return " ".join(" ".join(page_text(pdf, page).split()) for page in range(page_count(pdf)))


def test_sources_stand_with_weight_and_share_and_sum_to_the_whole():
    text = words_of(batch())
    assert "Withy Bank drum 114 22 Jul 2025 United Kingdom 17.4 126.000 45.10" in text
    # by hand: 126.0 + 58.6 + 52.3 + 42.5 kg
    assert "4 sources 279.400 100.00" in text


def test_a_batch_that_balances_says_so_and_one_that_does_not_says_by_how_much():
    assert "Balances to the gram" in words_of(batch())
    assert "0.005 kg of what went in is not accounted for" in words_of(batch(5))
    assert balance_words(-1) == "Does not balance: 0.001 kg more is accounted for than went in"


def test_a_reading_outside_its_limit_and_a_particular_to_mend_are_counted_in_the_heads():
    text = words_of(batch())
    assert "1 reading outside the limit" in text
    assert "3 met, 1 to mend" in text


def test_the_weights_are_drawn_against_mean_nominal_and_both_limits():
    record = batch()
    text = words_of(record)
    mean = sum(record.weighing.net_tenths) / 50 / 10
    for words in (
        f"mean {mean:.1f} g",
        "340 g nominal",
        "329.8 g, 3 % short",
        "319.6 g, not to be sold",
        "jar 50",
    ):
        assert words in text


def test_a_usual_jarring_is_signed_on_its_second_page():
    assert "page 2 of 2" in words_of(replace(batch(), dispatched=()))


def test_a_batch_with_nothing_read_yet_is_still_a_record():
    bare = replace(batch(), readings=(), weighing=None, particulars=(), counts=(), dispatched=(), sources=())
    text = words_of(bare)
    assert "Readings" not in text
    assert "Signature" in text


def test_the_workbook_sums_to_the_gram():
    book = load_workbook(BytesIO(render_workbook(batch(5), FARM, MADE)))
    assert book.sheetnames == ["Sources", "Balance", "Readings", "Weights", "Label"]
    balance = [row[1] for row in book["Balance"].iter_rows(min_row=HEAD_ROW + 1, values_only=True)]
    assert balance == [279.405, 277.46, 0.64, 0.683, 0.617, 0.005]
    shares = [row[6] for row in book["Sources"].iter_rows(min_row=HEAD_ROW + 1, values_only=True)]
    assert shares == [0.451, 0.2097, 0.1872, 0.1521, 1]
