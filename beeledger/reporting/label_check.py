"""The law's own look at a label as it is drawn, for the card of a batch and for its record."""

from __future__ import annotations

from beeledger.queries.records.batch_record import ParticularLine
from beeledger.queries.records.label_sheet import LabelRun
from beeledger.reporting.documents.label_sheet import particulars
from beeledger.rules.label_particulars import Particular, State


def check_run(run: LabelRun) -> tuple[Particular, ...]:
    """Every particular of a print run's label, measured on its drawing."""
    return particulars(run)


def particular_lines(run: LabelRun) -> tuple[ParticularLine, ...]:
    """The same as the batch record prints them."""
    stands = {State.MET: True, State.NOT_MET: False, State.ADVICE: None}
    return tuple(
        ParticularLine(one.title, one.words, stands[one.state], one.source) for one in check_run(run)
    )
