"""From the ledger to a label that a scanner reads, and that the law finds nothing wrong with."""

from __future__ import annotations

from dataclasses import replace

import biip
import pytest
import zxingcpp
from PIL import Image

from beeledger.base.errors import Refused
from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.farm import set_farm
from beeledger.queries.labels import batch_card, label_run, record_of, run_of
from beeledger.queries.records.heading import Farm, Made
from beeledger.reporting.catalogue import document
from beeledger.reporting.label_check import check_run, particular_lines
from beeledger.reporting.pictures import page_picture, page_text
from beeledger.rules.label_particulars import State
from tests.operations import honey_room as room_of

FARM = Farm("Sallow Bees")


def made(ledger: Ledger) -> Made:
    return Made(ledger.clock.now(), "sallow.beeledger")


def test_every_label_of_a_printed_page_decodes_to_lot_date_and_article(sqlite_ledger: Ledger) -> None:
    _, number = room_of.jarred(sqlite_ledger)
    with sqlite_ledger.read() as session:
        run = label_run(session, number, 10)
    pdf = document("label-sheet").render(run, FARM, made(sqlite_ledger))
    picture = page_picture(pdf, 0, 300)
    image = Image.frombytes("RGBA", (picture.width, picture.height), picture.rgba).convert("L")
    found = zxingcpp.read_barcodes(image)
    assert len(found) == run.layout.labels
    for code in found:
        message = biip.parse("]d2" + code.bytes.decode()).gs1_message
        assert message is not None
        assert message.element_strings.filter(ai="10")[0].value == "SB26-0001-40"
        assert message.element_strings.filter(ai="01")[0].value == "05012345678900"
        assert message.element_strings.filter(ai="15")[0].value == "280500"


def test_a_label_of_a_whole_ledger_meets_every_particular(sqlite_ledger: Ledger) -> None:
    _, number = room_of.jarred(sqlite_ledger)
    with sqlite_ledger.read() as session:
        run = label_run(session, number)
    assert [one.title for one in check_run(run) if one.state is State.NOT_MET] == []


def test_without_an_address_no_label_is_printed(sqlite_ledger: Ledger) -> None:
    _, number = room_of.jarred(sqlite_ledger)
    perform(sqlite_ledger, set_farm, {"address": ["office@sallow.example"]})
    with sqlite_ledger.read() as session:
        run = label_run(session, number)
    with pytest.raises(Refused) as refusal:
        document("label-sheet").render(run, FARM, made(sqlite_ledger))
    assert [finding.code for finding in refusal.value.findings if "postal" in finding.what] == [
        "label.business"
    ]


def test_the_batch_record_says_what_the_label_says(sqlite_ledger: Ledger) -> None:
    _, number = room_of.jarred(sqlite_ledger)
    with sqlite_ledger.read() as session:
        card = batch_card(session, number)
    assert card is not None
    lines = particular_lines(run_of(card))
    pdf = document("batch-record").render(record_of(card, lines), FARM, made(sqlite_ledger))
    text = page_text(pdf)
    assert "L SB26-0001-40" in text
    assert "Balances to the gram" in text
    assert {line.met for line in lines} <= {True, None}


def test_a_label_too_small_for_its_figures_fails(sqlite_ledger: Ledger) -> None:
    _, number = room_of.jarred(sqlite_ledger)
    with sqlite_ledger.read() as session:
        run = label_run(session, number)
    tiny = replace(run, layout=replace(run.layout, label_width=24.0, label_height=12.0))
    assert "whole" in {one.key for one in check_run(tiny) if one.state is State.NOT_MET}
