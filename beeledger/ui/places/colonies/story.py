"""What is known of one colony, made ready for the card: figures, boxes, charts, lanes, last visits. Plain functions."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

from beeledger.base.dates import days_between, long, short
from beeledger.base.text import counted, listed
from beeledger.base.units import frames, kilograms, litres, per_cent, scaled
from beeledger.queries.records.colonies import ColonyCard, MitesCounted, SupersFrom, Treated
from beeledger.queries.records.round_desk import Visit
from beeledger.rules import mites, stores
from beeledger.rules.due import default_settings
from beeledger.rules.rounds.entry import Entry, Outcome, outcome_of
from beeledger.rules.rounds.normal import habits_for
from beeledger.rules.rounds.writing import write
from beeledger.ui.parts.queen_mark import queen_disc, queen_words
from beeledger.ui.parts.stack_drawing import Box
from beeledger.ui.widgets.canvas import Threshold
from beeledger.ui.widgets.fact_rows import Fact
from beeledger.ui.widgets.key_figures import Figure
from beeledger.ui.widgets.line_chart import Point, Series
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.time_lanes import Lane, Moment, Shape, Span

YEAR = timedelta(days=365)
LAST_VISITS = 8
_YEAR_PLAIN_DAYS = 300
_FEEDS = {
    "syrup_1_1": "syrup 1:1", "syrup_2_1": "syrup 2:1", "syrup_ready": "ready syrup", "fondant": "fondant",
    "sugar": "sugar", "patty": "patty",
}  # fmt: skip


def day_words(day: date, today: date) -> str:
    """A day of the last ten months without its year, an older one with it."""
    return short(day) if days_between(day, today) < _YEAR_PLAIN_DAYS else long(day)


def facts_line(card: ColonyCard) -> str:
    """Where it stands, in what, and where it came from."""
    line = card.line
    place = {"vehicle": f"on {card.stood[-1].name}" if card.stood else "", "unaccounted": "unaccounted for"}
    where = place.get(card.place, line.site)
    if line.ended_on is not None:
        cause = (line.end_cause or "").replace("_", " ")
        where = f"ended {long(line.ended_on)}: {cause}, last at {line.site}"
    elif card.set_down:
        where += f", {card.set_down}"
    if line.stand is not None and line.ended_on is None:
        where += f", stand {line.stand}"
    parts = [
        where,
        line.boxes.hive_type if line.boxes else "",
        "" if line.kind == "full" else line.kind,
        came(card),
    ]
    return " · ".join(part for part in parts if part)


def came(card: ColonyCard) -> str:
    """How it came to be: of which split, or since when it is in the record."""
    givers = [kin for kin in card.kin if not kin.away and kin.kind in ("split", "nucleus")]
    born = [kin.other_mark or "a hive without a number" for kin in givers if kin.on <= card.line.founded_on]
    return f"from split of {listed(born)}" if born else f"in the record since {long(card.line.founded_on)}"


def key_figures(card: ColonyCard, today: date) -> list[Figure]:
    """Bees, brood, stores, mites, temper: each the newest there is, with where and when it comes from."""
    return [
        _counted(card, "Bees", "bees_tenths", today),
        _counted(card, "Brood", "brood_tenths", today),
        _stores(card, today),
        _mites(card, today),
        _temper(card, today),
    ]


def _newest(card: ColonyCard, holds: Callable[[Visit], bool]) -> Visit | None:
    return next((visit for visit in card.visits if holds(visit)), None)


def _counted(card: ColonyCard, name: str, field: str, today: date) -> Figure:
    visit = _newest(card, lambda one: getattr(one.entry, field) is not None)
    if visit is None:
        return Figure(name, "", "fr", "no count")
    return Figure(name, frames(getattr(visit.entry, field)), "fr", day_words(visit.on, today))


def _stores(card: ColonyCard, today: date) -> Figure:
    visit = _newest(card, _has_stores)
    if visit is None:
        return Figure("Stores", "", "kg", "not judged yet")
    entry = visit.entry
    how = "hefted" if entry.outcome is Outcome.NOT_OPENED else "judged"
    grams = _grams(card, entry)
    if entry.stores_g is None and entry.stores_tenths is not None:
        how = f"{frames(entry.stores_tenths)} fr,"
    if grams is None:
        words = str(entry.stores_heft) if entry.stores_heft else frames(entry.stores_tenths or 0)
        return Figure(
            "Stores", words, "" if entry.stores_heft else "frames", f"{how} {day_words(visit.on, today)}"
        )
    light = stores.is_light(grams, today, card.line.kind)
    words = kilograms(grams, 0 if grams % 1000 == 0 else 1)
    return Figure("Stores", words, "kg", f"{how} {day_words(visit.on, today)}", Mark.ODD if light else None)


def _grams(card: ColonyCard, entry: Entry) -> int | None:
    """Weighed or judged, else reckoned from frames of a size whose weight is known."""
    boxes = card.line.boxes
    if entry.stores_g is not None or entry.stores_tenths is None or boxes is None:
        return entry.stores_g
    if boxes.brood_frame not in stores.figures().frames_g:
        return None
    return stores.stores_from_frames_g(entry.stores_tenths, boxes.brood_frame)


def _has_stores(visit: Visit) -> bool:
    entry = visit.entry
    return entry.stores_g is not None or entry.stores_tenths is not None or entry.stores_heft is not None


def _mites(card: ColonyCard, today: date) -> Figure:
    if not card.mites:
        return Figure("Mites", "", "%", "no count yet")
    last = card.mites[-1]
    if last.method == "drop":
        return Figure(
            "Mite drop",
            scaled(mites.daily_drop_hundredths(last.mites, last.days or 1), 100, 1),
            "a day",
            mites_words(last),
        )
    share = mites.infestation_hundredths(last.mites, last.bees)
    mark = Mark.TODAY if share >= card.mite_line_hundredths else None
    if mark is None and share >= min(card.mite_line_hundredths, mites.figures().watch_hundredths):
        mark = Mark.ODD
    return Figure("Mites", per_cent(share), "%", f"{mites_words(last)}, {day_words(last.on, today)}", mark)


def mites_words(count: MitesCounted) -> str:
    """As "8 in 300", "21 in 7 days"."""
    if count.method == "drop":
        return f"{count.mites} in {count.days or 1} days"
    return f"{count.mites} in {count.bees or mites.figures().sample_bees}"


def _temper(card: ColonyCard, today: date) -> Figure:
    visit = _newest(card, lambda one: one.entry.temper is not None)
    if visit is None:
        return Figure("Temper", "", "of 5")
    return Figure("Temper", str(visit.entry.temper), "of 5", day_words(visit.on, today))


def stack(card: ColonyCard) -> tuple[Box, ...]:
    """The boxes from the bottom up, with the newest figures as words."""
    boxes = card.line.boxes
    if boxes is None:
        return ()
    brood = _newest(card, lambda one: one.entry.brood_tenths is not None)
    filled = _newest(card, lambda one: one.entry.super_fullness_tenths is not None)
    left = (brood.entry.brood_tenths or 0) / 10 if brood else 0.0
    made: list[Box] = []
    for at in range(boxes.brood_boxes):
        full = min(left, float(boxes.brood_frames))
        left -= full
        if brood is None or (at and not full):
            made.append(Box(True, boxes.brood_frames, 0, f"{boxes.brood_frames} frames"))
        else:
            words = f"{frames(round(full * 10))} of {boxes.brood_frames} brood"
            made.append(Box(True, boxes.brood_frames, full, words, short(brood.on)))
    rest = (filled.entry.super_fullness_tenths or 0) / 10 if filled else 0.0
    for at in range(boxes.supers):
        full = min(1.0, rest)
        rest -= full
        words, on = ("super", "") if filled is None else (_tenths_full(full), short(filled.on))
        made.append(
            Box(False, boxes.super_frames, full * boxes.super_frames, words, on, at == 0 and boxes.excluder)
        )
    return tuple(made)


def _tenths_full(share: float) -> str:
    tenths = round(share * 10)
    if tenths in (0, 10):
        return "full" if tenths else "empty"
    return f"{counted(tenths, 'tenth')} full"


def strength_series(card: ColonyCard, last: date) -> list[Series]:
    """Frames of bees and of brood over the twelve months up to a day."""
    visits = [visit for visit in reversed(card.visits) if last - YEAR <= visit.on <= last]
    return [
        Series(
            name,
            tuple(
                Point(visit.on, value / 10)
                for visit in visits
                if (value := getattr(visit.entry, field)) is not None
            ),
            rhythm=21,
        )
        for name, field in (("bees", "bees_tenths"), ("brood", "brood_tenths"))
    ]


def strength_lines(card: ColonyCard) -> list[Threshold]:
    """The frames of bees at which a first super is wanted; advice."""
    if card.line.kind != "full":
        return []
    tenths = default_settings().super_bees_tenths
    return [Threshold(tenths / 10, f"{frames(tenths)} to super")]


def stores_series(card: ColonyCard, last: date) -> list[Series]:
    """Kilograms of stores as judged, weighed or reckoned from frames, over the twelve months up to a day."""
    found = []
    for visit in reversed(card.visits):
        grams = _grams(card, visit.entry)
        if grams is not None and last - YEAR <= visit.on <= last:
            found.append(Point(visit.on, grams / 1000))
    return [Series("stores", tuple(found), rhythm=45)]


def stores_lines(card: ColonyCard, last: date) -> list[Threshold]:
    """Under what a colony is light in that month; advice."""
    grams = stores.light_line_g(last.month, card.line.kind)
    return [Threshold(grams / 1000, f"light under {kilograms(grams, 0 if grams % 1000 == 0 else 1)}")]


def mite_series(card: ColonyCard, last: date) -> list[Series]:
    """Mites in 100 bees by washes and rolls; a drop is another measure and not drawn with them."""
    points = tuple(
        Point(
            one.on,
            mites.infestation_hundredths(one.mites, one.bees) / 100,
            f"{mites_words(one)} by {one.method}",
        )
        for one in card.mites
        if one.method != "drop" and last - YEAR <= one.on <= last
    )
    return [Series("counted", points, rhythm=100)]


def mite_lines(card: ColonyCard) -> list[Threshold]:
    """The farm's line."""
    line = card.mite_line_hundredths
    return [Threshold(line / 100, f"treat at {per_cent(line, 0 if line % 100 == 0 else 1)}", orders=True)]


def lanes(card: ColonyCard, since: date) -> list[Lane]:
    """What happened since a day, a lane for each kind."""
    looks = tuple(
        Moment(
            one.on, Shape.RING if one.entry.outcome is Outcome.NOT_OPENED else Shape.DOT, _outcome_words(one)
        )
        for one in card.visits
    )
    feeds = tuple(
        Moment(
            one.on, Shape.BRICK, f"{_FEEDS.get(one.kind, one.kind)} {_amount(one.volume_ml, one.weight_g)}"
        )
        for one in card.fed
    )
    once = [one for one in card.treated if one.out_on == one.in_on]
    course = [one for one in card.treated if one.out_on != one.in_on]
    return [
        Lane("Looks", looks),
        Lane("Feed", feeds),
        Lane(
            "Treated",
            tuple(Moment(one.in_on, Shape.DIAMOND, one.product) for one in once),
            tuple(Span(one.in_on, one.out_on, _course_words(one)) for one in course),
        ),
        Lane("Supers", spans=tuple(super_spans(card.supers, card.line.ended_on))),
        *([Lane("Hives", tuple(_kin_moments(card)))] if card.kin else []),
        Lane("Queen", tuple(_queen_moments(card)), tuple(_queen_spans(card, since))),
        Lane("Stood", spans=tuple(Span(one.from_on, one.until_on, one.name or one.place, "band", "ink2") for one in card.stood)),
    ]  # fmt: skip


def super_spans(stacks: tuple[SupersFrom, ...], ended_on: date | None) -> list[Span]:
    """Stretches in which the same number of supers was on."""
    changes: list[SupersFrom] = []
    for one in stacks:
        if changes and changes[-1].on == one.on:
            changes[-1] = one
        elif not changes or changes[-1].supers != one.supers:
            changes.append(one)
    ends: list[date | None] = [*(after.on for _before, after in pairwise(changes)), ended_on]
    return [
        Span(one.on, until, f"{one.supers} on")
        for one, until in zip(changes, ends, strict=False)
        if one.supers
    ]


def visit_facts(card: ColonyCard) -> list[Fact]:
    """The last visits as the quick lines they are, with the crew's initials; each opens its round."""
    facts = []
    for visit in card.visits[:LAST_VISITS]:
        crew = card.crews.get(visit.round_id, "")
        year = "" if visit.on.year == card.visits[0].on.year else f" {visit.on.year}"
        name = f"{short(visit.on)}{year}  {crew}".rstrip()
        facts.append(Fact(name, middle=_line(visit.entry, visit.on), key=visit.round_id))
    return facts


def _line(entry: Entry, on: date) -> str:
    """The quick line as it was typed: that somebody looked goes without saying."""
    said = replace(entry, outcome=None)
    return write(said if outcome_of(said) is entry.outcome else entry, habits_for(on))


def events(drawn: list[Lane]) -> int:
    """How many things happened: what stood there all the time is none."""
    return sum(len(lane.moments) + len(lane.spans) for lane in drawn if lane.name != "Queen")


def first_day(card: ColonyCard, today: date) -> date:
    """Where the drawings begin: twelve months back."""
    return (card.line.ended_on or today) - YEAR


def _kin_moments(card: ColonyCard) -> list[Moment]:
    """Splits, unites and what was given, to and from other hives."""
    return [
        Moment(
            kin.on, Shape.DIAMOND, f"{kin.kind} {'to' if kin.away else 'from'} {kin.other_mark or 'another'}"
        )
        for kin in card.kin
    ]


def _queen_moments(card: ColonyCard) -> list[Moment]:
    found = []
    for queen in card.queens:
        disc = queen_disc(queen.year, queen.marked)
        words = queen_words(queen.year, queen.marked, queen.tag) or "queen not known"
        shape = Shape.DISC if disc else Shape.DOT
        found.append(Moment(queen.from_on, shape, f"{words} from here", disc))
    return found


def _queen_spans(card: ColonyCard, since: date) -> list[Span]:
    """Each queen for as long as she was there; her name where her disc is not in view."""
    return [
        Span(
            queen.from_on,
            queen.until_on,
            queen_words(queen.year, queen.marked, queen.tag) if queen.from_on < since else "",
            "band",
            "ink2",
        )
        for queen in card.queens
    ]


def _outcome_words(visit: Visit) -> str:
    return str(visit.entry.outcome or "").replace("_", " ")


def _course_words(course: Treated) -> str:
    return course.product


def _amount(volume_ml: int | None, weight_g: int | None) -> str:
    if volume_ml is not None:
        return f"{litres(volume_ml)} l"
    return f"{kilograms(weight_g)} kg" if weight_g is not None else ""
