"""The checks of a round line: one table, with the words that the user reads.

Refused holds the line. Against the record is asked about: one key takes the sheet and corrects the record
in the same post; those in ``REASON_CODES`` want a written reason, which becomes the recorded override.
Doubtful asks for a look and holds nothing. The functions say when a check trips; its code is its name.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

from beeledger.base.findings import Finding, Grade, Where
from beeledger.rules.rounds import against, impossible, odd
from beeledger.rules.rounds.case import Case, Words
from beeledger.rules.rounds.entry import Entry
from beeledger.rules.rounds.figures import Figures, shipped_figures
from beeledger.rules.rounds.record import HiveRecord

REFUSED, AGAINST, DOUBTFUL, NOTED = Grade.REFUSED, Grade.AGAINST, Grade.DOUBTFUL, Grade.NOTED


@dataclass(frozen=True, slots=True)
class Check:
    """One line of the table. ``what`` and ``mend`` may name in braces what ``trips`` hands them."""

    grade: Grade
    field: str
    what: str
    mend: str
    trips: Callable[[Case], Words | None]
    wants_reason: bool = False

    @property
    def code(self) -> str:
        """The stable name of the check: "rounds.dead_yet_alive"."""
        return f"rounds.{self.trips.__name__}"


_LABEL = "The label and the law stand above the record"
# fmt: off
CHECKS: tuple[Check, ...] = (
    # grade, field, what, mend, trips
    Check(REFUSED, "outcome", "dead, and {said}", "Clear one of the two", impossible.dead_yet_alive),
    Check(REFUSED, "outcome", "empty, and {said}", "Clear one of the two", impossible.empty_yet_alive),
    Check(REFUSED, "outcome", "not found, and {said}", "Clear one of the two", impossible.not_found_yet_seen),
    Check(REFUSED, "outcome", "not opened, and {said}", "Clear one of the two", impossible.not_opened_yet_seen),
    Check(REFUSED, "cause", "a cause, but not dead", "Mark it dead or clear the cause", impossible.cause_of_the_living),
    Check(REFUSED, "", "below nought: {said}", "Type it again", impossible.below_nought),
    Check(REFUSED, "temper", "temper {temper}, it goes from 1 to 5", "Type it again", impossible.temper_off_the_scale),
    Check(REFUSED, "super_fullness_tenths", "{full} tenths full", "Ten tenths are a full box", impossible.fuller_than_full),
    Check(REFUSED, "brood_tenths", "{brood} brood, {holds}", "Look at the sheet, or correct its boxes", impossible.brood_beyond_the_box),
    Check(REFUSED, "brood_tenths", "{cells} cells of brood, no queen lays {most}", "Look at the sheet", impossible.brood_beyond_laying),
    Check(REFUSED, "cells_count", "no cells, and {count} counted", "Clear one of the two", impossible.cells_and_none),
    Check(REFUSED, "queen_seen", "queenless, and queen seen", "Clear one of the two", impossible.queen_seen_and_none),
    Check(REFUSED, "queen_colour", "queen {colour}, but not seen", "Clear one of the two", impossible.colour_unseen),
    Check(REFUSED, "mites_bees", "mites counted in {sample}", "Type the sample again", impossible.no_sample),
    Check(REFUSED, "split_to", "{mark} with itself", "Type the other hive's number", impossible.with_itself),
    Check(REFUSED, "split_to", "split to a hive without a mark", "Type its number", impossible.split_without_mark),

    Check(AGAINST, "outcome", "no colony has the mark {mark}", "Accept to take it on as a new colony", against.unknown_mark),
    Check(AGAINST, "outcome", "on record at {site}", "Accept to move it here in the record", against.stands_elsewhere),
    Check(AGAINST, "outcome", "on record dead", "Accept to correct its end", against.dead_on_record),
    Check(AGAINST, "supers_off", "{off}, {was}", "Accept to correct the supers on record", against.supers_off_never_on),
    Check(AGAINST, "queen_state", "{said}, on record queenless", "Accept to correct the record", against.queen_in_queenless),
    Check(AGAINST, "queen_colour", "{seen}, on record {due}", "Accept to correct the queen's mark", against.other_colour),
    Check(AGAINST, "medicine_out", "strips out, none on record", "Accept to note what was in", against.out_never_in),
    Check(AGAINST, "feed_left_ml", "feed left, none on record", "Accept to note the feed", against.left_never_fed),
    Check(AGAINST, "supers_off", "honey taken under treatment: {treatment}", f"Write the reason. {_LABEL}", against.honey_under_treatment, wants_reason=True),
    Check(AGAINST, "supers_off", "honey taken where feed was on", "Write the reason: no sugar may be in honey for sale", against.honey_with_feed, wants_reason=True),
    Check(AGAINST, "medicine_in", "treated, and {left}", f"Write the reason. {_LABEL}", against.medicine_under_supers, wants_reason=True),

    Check(DOUBTFUL, "brood_tenths", "{cells} cells of brood, more than {line}", "Look at the figure again", odd.much_brood),
    Check(DOUBTFUL, "brood_tenths", "brood and stores on {both} frames, it has {held}", "Look at both figures again", odd.brood_and_stores_beyond_frames),
    Check(DOUBTFUL, "bees_tenths", "{brood} brood, bees on {bees} only", "Look at both figures again", odd.more_brood_than_bees),
    Check(DOUBTFUL, "bees_tenths", "bees on {bees} frames, it has {most} with its supers", "Look at the figure again", odd.more_bees_than_frames),
    Check(DOUBTFUL, "brood_tenths", "no brood, {last} frames last time", "Look for eggs and a queen", odd.brood_gone),
    Check(DOUBTFUL, "eggs", "no eggs, no queen, no cells", "Queenless or a young queen: look again, or give a frame of eggs", odd.perhaps_queenless),
    Check(DOUBTFUL, "cells_stage", "sealed; swarm gone?", "Say if the queen was seen", odd.swarm_gone),
    Check(DOUBTFUL, "stores_g", "{fell} kg less in {days} days", "Look at the figure again, or at the hive for robbing", odd.stores_fell),
    Check(DOUBTFUL, "stores_g", "{stores} kg of stores, it holds {most}", "Look at the figure again", odd.stores_beyond_the_hive),
    Check(DOUBTFUL, "supers_off", "supers off, {left} kg left and no feed", "Leave what it needs to live, or feed", odd.honey_it_needs),
    Check(DOUBTFUL, "mites_count", "{rate} %, {place} your line of {line} %", "Treat by the label", odd.mites_over_the_line),
    Check(DOUBTFUL, "mites_count", "about {mites} mites by this drop", "Treat by the label", odd.drop_over_the_line),
    Check(DOUBTFUL, "mites_count", "{count} mites in {bees} bees", "Look at both figures again", odd.more_mites_than_bees),
    Check(DOUBTFUL, "medicine_in", "{medicine} is in already", "Say if the old came out", odd.treated_twice),
    Check(DOUBTFUL, "supers_on", "supers on, and {medicine} is in", f"Leave them off until it is out. {_LABEL}", odd.supers_over_medicine),
    Check(DOUBTFUL, "feed_ml", "fed with supers on", "Take the supers off first if the honey is for sale", odd.syrup_under_supers),
    Check(DOUBTFUL, "", "{value}", "Look at the figure again", odd.many),
    Check(DOUBTFUL, "split_to", "{taken} brood gone, {brood} were there", "Look at both figures again", odd.split_beyond_brood),
    Check(DOUBTFUL, "note", "the note begins with {word}, which reads as: {reads}", "Type it before the sign of the note if it is meant", odd.note_of_marks),
    Check(NOTED, "note", "a stranger without a word", "Say how to know it", odd.stranger_unnamed),
)
# fmt: on
RESTRICTED = "rounds.restricted"
"""Out of a restricted place, which the record alone can tell: the reason written is the licence."""
REASON_CODES = frozenset(check.code for check in CHECKS if check.wants_reason) | {RESTRICTED}
"""Checks that only a written reason answers; the reason is kept as the override."""


def needs_reason(finding: Finding) -> bool:
    """Whether ``finding`` wants a written reason before its line can be posted."""
    return finding.code in REASON_CODES


def check_entry(
    entry: Entry, record: HiveRecord, today: date, figures: Figures | None = None
) -> list[Finding]:
    """All that the checks find on one line, gravest first and then in the order of the table.

    ``today`` is the day of the visit. ``Where.field`` names the field of the entry, ``Where.record`` the
    hive's mark.
    """
    case = Case(entry, record, today, figures or shipped_figures())
    found = [_finding(check, words, record) for check in CHECKS if (words := check.trips(case)) is not None]
    return sorted(found, key=lambda finding: list(Grade).index(finding.grade))


def _finding(check: Check, words: Words, record: HiveRecord) -> Finding:
    where = Where(field=words.get("field", check.field), record=record.mark)
    return Finding(check.code, check.grade, check.what.format(**words), check.mend.format(**words), where)
