"""Every document with hostile text in every free field: it comes out whole, on paper and in workbooks."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from io import BytesIO
from typing import Any

import pytest
from openpyxl import load_workbook

from beeledger.queries.records.route_card import RouteCard
from beeledger.reporting.catalogue import Form, document
from beeledger.reporting.pictures import page_count, page_text
from tests.reporting import dispatch_examples, examples, honey_examples
from tests.reporting.documents.test_route_card import DAY, VAN

CODES = {"state", "grade", "queen_colour", "marks", "hive", "last", "sums"}
"""Fields that hold codes, hive marks or figures, and no free text."""
RECORDS = {
    "movement-report": examples.report(6),
    "movement-register": examples.register(12),
    "round-sheet": examples.sheet(5),
    "round-summary": examples.summary(4),
    "batch-record": honey_examples.batch(),
    "delivery-note": dispatch_examples.note(),
    "recall-paper": dispatch_examples.recall(),
    "route-card": RouteCard(DAY, (VAN,), (("Far Ley", "Blue van is home at 19:00"),)),
}


def hostile(value: Any) -> Any:
    if isinstance(value, str):
        return examples.HOSTILE if value else value
    if isinstance(value, tuple):
        return tuple(hostile(each) for each in value)
    if is_dataclass(value) and not isinstance(value, type):
        changed = {
            each.name: hostile(getattr(value, each.name)) for each in fields(value) if each.name not in CODES
        }
        return replace(value, **changed)
    return value


def texts(value: Any) -> int:
    """How often the hostile text stands in a record."""
    if isinstance(value, str):
        return int(value == examples.HOSTILE)
    if isinstance(value, tuple):
        return sum(texts(each) for each in value)
    if is_dataclass(value):
        return sum(texts(getattr(value, each.name)) for each in fields(value))
    return 0


@pytest.mark.parametrize("key", RECORDS)
def test_hostile_text_comes_out_whole_on_paper(key):
    record = hostile(RECORDS[key])
    pdf = document(key).render(record, hostile(examples.FARM), examples.MADE)
    text = "".join("".join(page_text(pdf, page).split()) for page in range(page_count(pdf)))
    plain = text.replace("\ufffe", "").replace("\u00ad", "")
    # each is 200 letters x; what wraps may be parted by other columns, but no letter is lost
    assert plain.count("x") >= 200 * (texts(record) // 2)
    assert "<b>TŷGŵyn</b>" in plain
    assert "&amp;" not in plain
    assert "\x1b" not in plain


@pytest.mark.parametrize("key", [key for key in RECORDS if Form.WORKBOOK in document(key).forms])
def test_hostile_text_is_text_in_the_workbook(key):
    data = document(key).render(hostile(RECORDS[key]), hostile(examples.FARM), examples.MADE, Form.WORKBOOK)
    cells = [cell for sheet in load_workbook(BytesIO(data)) for row in sheet.iter_rows() for cell in row]
    assert not [cell for cell in cells if cell.data_type == "f"]
    whole = [cell for cell in cells if "x" * 200 in str(cell.value)]
    assert whole
    assert all("<b>Tŷ Gŵyn</b> & Sons =1+1" in cell.value for cell in whole)
