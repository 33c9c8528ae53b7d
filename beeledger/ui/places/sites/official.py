"""What the authority has to do with a site, in words: restrictions, visits of inspectors, samples."""

from __future__ import annotations

from datetime import date

from beeledger.base.dates import long
from beeledger.base.text import counted, listed
from beeledger.queries.records.restrictions import RestrictionLine, SampleLine, SiteOfficial, VisitLine
from beeledger.rules.restrictions import result_days
from beeledger.ui.widgets.fact_rows import Fact
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.marks import Mark

HEADING = "Restricted: nothing leaves without a licence"


def force_facts(official: SiteOfficial) -> list[Fact]:
    """What is in force, first and whole: what it stops, since when, by whom, and what it was opened for."""
    return [fact for line in official.in_force for fact in _in_force(line)]


def record_facts(official: SiteOfficial, today: date) -> list[Fact]:
    """Visits, samples and restrictions that are over, newest first."""
    facts = [
        *((one.on, visit_fact(one)) for one in official.visits),
        *((one.taken_on, sample_fact(one, today)) for one in official.samples),
        *((one.begins_on, past_fact(one)) for one in official.past),
    ]
    return [fact for _, fact in sorted(facts, key=lambda pair: pair[0], reverse=True)]


def stops_words(line: RestrictionLine) -> str:
    """What stays where it is: "bees, comb, honey, boxes and tools stay; nothing comes in"."""
    inward = "; nothing comes in" if line.stops.inward else ""
    return f"{listed(line.stops.named())} stay{inward}"


def _in_force(line: RestrictionLine) -> list[Fact]:
    where = "" if line.scope == "site" else f"{line.where}: "
    head = Fact(
        f"{where}{line.reason}", "", Mark.HELD, f"since {long(line.begins_on)}: {stops_words(line)}", weight=600,
        ink="now", key=("restriction", line.id),
    )  # fmt: skip
    by = " · ".join(part for part in (line.by_whom, line.reference) if part)
    served = f"notice served {long(line.served_on)}" if line.served_on else "no notice served yet"
    rest = [Fact("Authority", served, middle=by)]
    if line.expected_end_on:
        rest.append(Fact("Ends", "by written release only", middle=f"expected {long(line.expected_end_on)}"))
    rest += [Fact("Licence", one.licence, middle=one.what) for one in line.licences]
    rest += [Fact("Note", middle=line.note)] if line.note else []
    return [head, *rest]


def past_fact(line: RestrictionLine) -> Fact:
    """A restriction that is over."""
    released = f"released {long(line.released_on)}" if line.released_on else ""
    what = f"Restriction since {long(line.begins_on)}"
    said = " · ".join(part for part in (line.reason, line.release_reference) if part)
    return Fact(what, released, Mark.MET, said, key=("restriction", line.id))


def visit_fact(visit: VisitLine) -> Fact:
    """An inspector's visit."""
    said = " · ".join(part for part in (visit.purpose, visit.found, visit.note) if part)
    return Fact(f"Visit of {visit.inspector}", long(visit.on), second=said)


def sample_fact(sample: SampleLine, today: date) -> Fact:
    """A sample and what came back."""
    hive = f" of hive {sample.mark}" if sample.mark else ""
    late = not sample.outcome and (today - sample.taken_on).days >= result_days()
    if sample.outcome:
        value, mark = f"{sample.outcome}, {long(sample.result_on or sample.taken_on)}", None
        mark = Mark.MET if sample.outcome == "clear" else Mark.HELD
    else:
        value = (
            f"no result after {counted((today - sample.taken_on).days, 'day')}" if late else "no result yet"
        )
        mark = Mark.LATE if late else Mark.SOON
    sent = f"to {sample.laboratory}" if sample.laboratory else ""
    said = " · ".join(part for part in (f"taken {long(sample.taken_on)}", sent, sample.result) if part)
    ink: Token = "now" if late or sample.outcome == "positive" else "ink2"
    return Fact(
        f"Sample: {sample.what}{hive}", value, mark, said, value_ink=ink, key=("sample", sample.id)
    )  # fmt: skip


def paper_records(official: SiteOfficial) -> dict[tuple[str, int], str]:
    """What papers may hang on beside the site itself: its notices, visits and samples, each in words."""
    restrictions = (*official.in_force, *official.past)
    return {
        **{("restriction", one.id): f"restriction of {long(one.begins_on)}" for one in restrictions},
        **{("official_visit", one.id): f"visit of {long(one.on)}" for one in official.visits},
        **{("sample", one.id): f"sample of {long(one.taken_on)}" for one in official.samples},
    }
