"""The reasons themselves, one small rule each, from facts and settings to dated reasons."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from beeledger.base import dates
from beeledger.base.units import frames, kilograms, per_cent
from beeledger.rules import mites, queens, stores
from beeledger.rules.due.facts import ColonyFacts, Due, Fact
from beeledger.rules.due.figures import DueSettings, default_settings, reason_figures
from beeledger.rules.due.making import after as _after
from beeledger.rules.due.making import one as _one
from beeledger.rules.due.season_work import SEASON_RULES


def due(facts: ColonyFacts, settings: DueSettings | None = None) -> list[Due]:
    """Every dated reason to go to a colony, earliest first, however far off."""
    own = settings or default_settings()
    found = [reason for rule in _RULES for reason in rule(facts, own) if reason.code not in own.off]
    # A look that is due sooner for a better reason makes "nobody looked" idle.
    looks = [one.due_on for one in found if one.code in _LOOKS]
    idle = [one for one in found if one.code == "unseen" and looks and min(looks) <= one.due_on]
    return sorted(
        (one for one in found if one not in idle),
        key=lambda one: (one.due_on, reason_figures()[one.code].rank),
    )


def _in_swarm_season(day: date, own: DueSettings) -> bool:
    return own.swarm_from <= (day.month, day.day) <= own.swarm_until


def _asked(facts: ColonyFacts) -> date | None:
    """The typed day, unless a later look has already answered it."""
    answered = facts.next_on is not None and facts.looked is not None and facts.next_on <= facts.looked
    return None if answered else facts.next_on


def _swarm_check(facts: ColonyFacts, own: DueSettings) -> Iterator[Due]:
    looked = facts.looked or facts.since
    # A virgin is left in peace: her own date is the queen's.
    if facts.kind != "full" or looked is None or facts.queen_state in ("virgin", "cells"):
        return
    days = own.every_days_clipped if facts.clipped else own.every_days
    due_on, why = _after(looked, days), f"{_looked_words(facts)}, every {days} days"
    asked = _asked(facts)
    if asked is not None and not facts.next_action:
        due_on, why = asked, f"asked for at the look of {dates.short(looked)}"
    if not _in_swarm_season(due_on, own):
        year = due_on.year + ((due_on.month, due_on.day) > own.swarm_until)
        due_on, why = date(year, *own.swarm_from), "the swarm season begins"
    yield _one(facts, "swarm_check", "look for queen cells", why, due_on, _looked_fact(facts))


def _cells(facts: ColonyFacts, own: DueSettings) -> Iterator[Due]:
    if (
        facts.looked is None
        or facts.cells_done
        or facts.cells not in ("open", "sealed", "emergency", "supersedure")
    ):
        return
    if facts.cells == "supersedure":
        return  # left to the bees
    days = own.cells_sealed_days if facts.cells == "sealed" else own.cells_open_days
    why = f"{facts.cells} cells on {dates.short(facts.looked)}, nothing written as done"
    yield _one(
        facts, "cells", "act on the queen cells", why, _after(facts.looked, days), (Fact.LOOK, facts.looked)
    )


def _strips_out(facts: ColonyFacts, _own: DueSettings) -> Iterator[Due]:
    if facts.strips_in is not None and facts.strips_out_by is not None:
        why = f"in since {dates.short(facts.strips_in)}"
        fact = (Fact.COURSE, facts.strips_in)
        yield _one(facts, "strips_out", "take the strips out", why, facts.strips_out_by, fact)


def _light(facts: ColonyFacts, own: DueSettings) -> Iterator[Due]:
    if facts.stores_g is None or facts.stores_on is None or facts.kind == "mating":
        return
    start = stores.light_from(facts.stores_g, facts.stores_on, facts.kind)
    if start is None:
        return
    line = stores.light_line_g(start.month, facts.kind)
    why = (
        f"{kilograms(facts.stores_g)} kg of stores on {dates.short(facts.stores_on)}, "
        f"less than {kilograms(line)} kg is light then; "
        f"by the usual use of the months gone about {dates.short(stores.lasts_until(facts.stores_g, facts.stores_on))}"
    )
    days = own.light_days if start == facts.stores_on else 0
    yield _one(facts, "light", "feed", why, _after(start, days), (Fact.LOOK, facts.stores_on))


def _queen(facts: ColonyFacts, own: DueSettings) -> Iterator[Due]:
    since = facts.queen_state_since or facts.looked
    if since is None:
        return
    fact = (Fact.LOOK, since)
    if facts.queen_state in ("queenless", "drone_layer"):
        words = "no queen" if facts.queen_state == "queenless" else "a drone layer"
        why = f"{words} on {dates.short(since)}"
        yield _one(facts, "queenless", "requeen or unite", why, _after(since, own.queenless_days), fact)
    elif facts.queen_state == "virgin":
        why = f"a virgin on {dates.short(since)}"
        yield _one(facts, "queen", "look for eggs", why, queens.virgin(since).laying_about, fact)
    elif facts.queen_state == "cells":
        emerged = queens.cell_emerges(since, sealed=facts.cells == "sealed")[1]
        why = f"cells left on {dates.short(since)}"
        yield _one(facts, "queen", "look for eggs", why, queens.virgin(emerged).laying_about, fact)
    elif facts.queen_seen is not None and facts.kind != "mating":
        yield from _queen_unseen(facts, facts.queen_seen, own)


def _queen_unseen(facts: ColonyFacts, seen: date, own: DueSettings) -> Iterator[Due]:
    # Only looks since then that found neither make her doubtful; winter does not.
    if facts.looked is None or facts.looked <= seen:
        return
    due_on = _after(seen, own.queen_unseen_days)
    if due_on.month in own.summer_months:
        why = f"neither queen nor eggs since {dates.short(seen)}"
        yield _one(facts, "queen", "look for the queen or eggs", why, due_on, (Fact.LOOK, seen))


def _super(facts: ColonyFacts, own: DueSettings) -> Iterator[Due]:
    if facts.kind != "full" or facts.looked is None or facts.looked.month not in own.super_months:
        return
    fullness, bees = facts.super_fullness_tenths, facts.bees_tenths
    on = dates.short(facts.looked)
    if facts.supers and fullness is not None and fullness >= own.super_full_tenths:
        why = f"super {fullness} tenths full on {on}"
    elif not facts.supers and bees is not None and bees >= own.super_bees_tenths:
        why = f"{frames(bees)} frames of bees and no super on {on}"
    else:
        return
    if facts.strips_in is None:  # no super for harvest over strips
        yield _one(
            facts,
            "super",
            "put a super on",
            why,
            _after(facts.looked, own.super_days),
            (Fact.LOOK, facts.looked),
        )


def _mites(facts: ColonyFacts, own: DueSettings) -> Iterator[Due]:
    if facts.kind != "full" or facts.strips_in is not None:
        return
    counted_on, treated = facts.mites_on, facts.treated
    if treated is not None and (counted_on is None or treated >= counted_on):
        due_on, why = (
            _in_count_months(_after(treated, own.recount_days), own),
            f"treated until {dates.long(treated)}",
        )
        yield _one(facts, "count", "count mites", why, due_on, (Fact.COURSE, treated))
        return
    if counted_on is not None and (why := _over_the_line(facts, counted_on, own)):
        yield _one(
            facts,
            "treat",
            "decide on a treatment",
            why,
            _after(counted_on, own.treat_days),
            (Fact.COUNT, counted_on),
        )
        return
    start = counted_on or facts.since
    if start is None:
        return
    due_on = _in_count_months(_after(start, own.count_days), own)
    why = f"last counted {dates.long(counted_on)}" if counted_on else "no count yet"
    if counted_on is not None and (reached := _line_reached(facts, counted_on, own)) and reached[0] < due_on:
        due_on, why = reached
    fact = (Fact.COUNT, counted_on) if counted_on else (Fact.MADE, start)
    yield _one(facts, "count", "count mites", why, due_on, fact)


def _line_reached(facts: ColonyFacts, counted_on: date, own: DueSettings) -> tuple[date, str] | None:
    """When the mites of the last count reach the line by growth with brood; None where they do not or brood rests."""
    share, estimate, most = facts.mites_hundredths, facts.mites_estimate, mites.figures().most_mites
    if share is not None:
        days = mites.days_until(share, own.mite_line_hundredths)
        seen, line = f"{per_cent(share)} %", f"{mites.line_words(own.mite_line_hundredths)} %"
    else:
        days = mites.days_until(estimate or 0)
        seen, line = f"about {estimate or 0:,} mites", f"{most:,}"
    if days is None:
        return None
    reached = _after(counted_on, max(days, own.count_least_days))
    if {counted_on.month, reached.month} - own.count_months:
        return None
    doubling = mites.figures().doubling_days
    why = f"{seen} on {dates.short(counted_on)} doubles in about {doubling} days: {line} about {dates.short(reached)}"
    return reached, why


def _in_count_months(day: date, own: DueSettings) -> date:
    """That day, or the first of the next month in which hives are opened to count."""
    while day.month not in own.count_months:
        day = _after(day.replace(day=1), 32).replace(day=1)
    return day


def _over_the_line(facts: ColonyFacts, counted_on: date, own: DueSettings) -> str:
    """Why the last count asks for a treatment; empty when it does not."""
    share, estimate, on = facts.mites_hundredths, facts.mites_estimate, dates.short(counted_on)
    if share is not None and mites.judge(share, own.mite_line_hundredths) is mites.Judgement.TREAT:
        return f"{per_cent(share)} % on {on}, the line is {mites.line_words(own.mite_line_hundredths)} %"
    most = mites.figures().most_mites
    if estimate is not None and estimate >= most:
        return f"about {estimate:,} mites by the drop of {on}, the line is {most:,}"
    return ""


def _action(facts: ColonyFacts, own: DueSettings) -> Iterator[Due]:
    asked = _asked(facts)
    if asked is None:
        return
    on = f"asked for on {dates.short(facts.looked)}" if facts.looked else "asked for"
    if facts.next_action:
        yield _one(facts, "action", facts.next_action, on, asked, _looked_fact(facts))
    elif facts.kind != "full" or not _in_swarm_season(asked, own):
        yield _one(facts, "action", "look again", on, asked, _looked_fact(facts))


def _unseen(facts: ColonyFacts, own: DueSettings) -> Iterator[Due]:
    looked = facts.looked or facts.since
    if looked is None:
        return
    due_on = _after(looked, own.unseen_days_summer)
    if due_on.month not in own.summer_months:
        # Over the winter a heft is enough, until a month after the season opens.
        first = date(due_on.year + (due_on.month > max(own.summer_months)), min(own.summer_months), 1)
        visited = max(looked, facts.visited or looked)
        due_on = min(_after(visited, own.unseen_days_winter), _after(first, own.unseen_days_summer))
    yield _one(facts, "unseen", "look in or heft", _looked_words(facts), due_on, _looked_fact(facts))


def _not_found(facts: ColonyFacts, own: DueSettings) -> Iterator[Due]:
    gone = facts.not_found
    if gone is not None and (facts.looked is None or gone >= facts.looked):
        why = f"not found on {dates.short(gone)}"
        yield _one(
            facts,
            "not_found",
            "look where it stands",
            why,
            _after(gone, own.not_found_days),
            (Fact.LOOK, gone),
        )


def _question(facts: ColonyFacts, own: DueSettings) -> Iterator[Due]:
    asked = facts.looked or facts.not_found or facts.since
    if facts.question and asked is not None:
        why = f"asked at the round of {dates.short(asked)}"
        yield _one(
            facts, "question", facts.question, why, _after(asked, own.question_days), (Fact.LOOK, asked)
        )


def _looked_fact(facts: ColonyFacts) -> tuple[Fact, date | None]:
    return (Fact.LOOK, facts.looked) if facts.looked else (Fact.MADE, facts.since)


def _looked_words(facts: ColonyFacts) -> str:
    return (
        f"last opened {dates.long(facts.looked)}"
        if facts.looked
        else "never opened since it is in the record"
    )


_LOOKS = frozenset({"swarm_check", "cells", "queen", "queenless", "action", "not_found"})
_RULES = (
    _swarm_check,
    _cells,
    _strips_out,
    _light,
    _queen,
    _super,
    _mites,
    _action,
    _unseen,
    _not_found,
    _question,
    *SEASON_RULES,
)
