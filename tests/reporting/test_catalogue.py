"""The catalogue: every document has its code, its record and its key in the foot."""

from __future__ import annotations

from importlib import import_module
from pathlib import Path

import pytest

from beeledger.reporting import documents
from beeledger.reporting.catalogue import DOCUMENTS, Form, document
from tests.reporting.examples import FARM, MADE, register


@pytest.mark.parametrize("each", DOCUMENTS, ids=lambda each: each.key)
def test_a_document_stands_under_its_own_key_with_its_record(each):
    code = import_module(f"beeledger.reporting.documents.{each.module}")
    assert each.key == code.KEY
    assert hasattr(code, "render_workbook") is (Form.WORKBOOK in each.forms)
    import_module(f"beeledger.queries.records.{each.module}")


def test_every_document_is_listed():
    files = {path.stem for path in Path(documents.__path__[0]).glob("*.py")} - {"__init__"}
    assert files == {each.module for each in DOCUMENTS}


def test_a_document_is_written_in_either_form():
    log = document("movement-register")
    assert log.render(register(6), FARM, MADE).startswith(b"%PDF")
    assert log.render(register(6), FARM, MADE, Form.WORKBOOK).startswith(b"PK")


def test_labels_are_no_workbook_and_an_unknown_key_names_the_known():
    with pytest.raises(ValueError, match="Labels is not written as xlsx"):
        document("label-sheet").render(None, FARM, MADE, Form.WORKBOOK)
    with pytest.raises(KeyError, match="movement-report"):
        document("hive-card")
