"""The words of the trade as the farm's papers and screens use them, to hang in the honey house."""

from __future__ import annotations

from reportlab.platypus import Flowable

from beeledger.base.text import counted
from beeledger.queries.records.glossary import Glossary, WordMeant
from beeledger.queries.records.heading import Farm, Made
from beeledger.reporting.look.page import Heading, build
from beeledger.reporting.look.tables import Column, Ledger, Row

KEY = "words-we-use"
TITLE = "Words we use"


def heading(record: Glossary) -> Heading:
    """What stands at the head."""
    return Heading(
        KEY, TITLE, "", "What a word means on our papers and screens", counted(len(record.words), "word")
    )


def render_pdf(record: Glossary, farm: Farm, made: Made) -> bytes:
    """The list as PDF."""
    columns = [Column("Word", 38, face="SemiBold"), Column("Means"), Column("Met in", 34)]
    rows: list[Row] = [[_name(one), one.meaning, one.where] for one in record.words]
    story: list[Flowable] = [Ledger(columns, rows)]
    return build(heading(record), farm, made, story)


def _name(one: WordMeant) -> str:
    return ", ".join((one.word, *one.also))
