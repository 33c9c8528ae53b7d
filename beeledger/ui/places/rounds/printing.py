"""The sheet of a round on paper, as it stands in the preview."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from beeledger.base.dates import long
from beeledger.queries.round_paper import printed_sheet
from beeledger.ui.parts.paper import PaperPane
from beeledger.ui.places.rounds.state import Head

if TYPE_CHECKING:
    from sqlalchemy.orm import Session


def show_round_sheet(paper: PaperPane, head: Head) -> None:
    """Fill the preview with the sheet of a round's site and day."""
    query = partial(_printed, head=head)
    paper.show_document("round-sheet", query, f"Round sheet {head.site} {long(head.on)}")


def _printed(session: Session, *, head: Head) -> object:
    return printed_sheet(session, head.site_id, head.on)
