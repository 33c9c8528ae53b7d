"""The list of words on paper: every word with what it means, on few pages."""

from __future__ import annotations

from beeledger.queries.glossary import glossary
from beeledger.reporting.documents.glossary import render_pdf
from beeledger.reporting.pictures import page_count, page_text
from tests.reporting.examples import FARM, MADE


def test_every_word_stands_on_the_paper_with_its_meaning():
    record = glossary()
    pdf = render_pdf(record, FARM, MADE)
    pages = page_count(pdf)
    text = " ".join(" ".join(page_text(pdf, page).split()) for page in range(pages))
    assert [one.word for one in record.words if one.word not in text] == []
    assert [one.word for one in record.words if one.meaning.split(".")[0][:30] not in text] == []
    assert pages <= 6
