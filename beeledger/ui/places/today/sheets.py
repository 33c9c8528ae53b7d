"""The round sheets of several sites as one document, made off the window's thread."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from beeledger.queries.headings import heading_of
from beeledger.reporting.catalogue import Form, document
from beeledger.ui.desk.desk import Desk
from beeledger.ui.desk.jobs import Job
from beeledger.ui.parts.paper import Printed, file_name, pages_of, source_name


def round_sheets(desk: Desk, job: Job, site_ids: Sequence[int], day: date) -> Printed:
    """One sheet a site in the order given; several sites become one PDF, one alone is also a workbook."""
    from beeledger.queries.round_paper import printed_sheet
    from beeledger.reporting.pictures import joined

    about = document("round-sheet")
    records = []
    with desk.ledger.read() as session:
        farm, made = heading_of(session, desk.clock, source_name(desk), desk.settings.who)
        for site_id in site_ids:
            records.append(printed_sheet(session, site_id, day))
            job.progress(len(records), 2 * len(site_ids))
    pdfs = []
    for record in records:
        pdfs.append(about.render(record, farm, made))
        job.progress(len(records) + len(pdfs), 2 * len(site_ids))
    pdf = pdfs[0] if len(pdfs) == 1 else joined(pdfs)
    if len(records) > 1:
        about = replace(about, title="Round sheets", forms=(Form.PDF,))
    name = records[0].site if len(records) == 1 else f"{len(records)} sites"
    return Printed(
        about, records[0], farm, made, file_name(f"Round {name} {day.isoformat()}"), pdf, pages_of(pdf)
    )
