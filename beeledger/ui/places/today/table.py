"""The sites to go to as rows, as shapes on the map, and what the chosen ones add up to."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from beeledger.base.text import counted
from beeledger.base.units import kilometres
from beeledger.queries.due import SiteDue
from beeledger.queries.pressing import Morning, Pressing
from beeledger.rules.due import Grade, reason_figures
from beeledger.rules.haulage import nearest_next, round_estimate
from beeledger.rules.sites import GridReference, LatLon, Spot
from beeledger.ui.parts.due_words import INKS, MARKS, when_words
from beeledger.ui.parts.site_map import MapSite
from beeledger.ui.widgets.cells import BLANK, Align, Cell, Column, Row, Run
from beeledger.ui.widgets.fact_rows import Fact
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.marks import Mark

COLUMNS = (
    Column("site", "Site", sample="Stocking Field"),
    Column("late", "Late", "days", sample="tomorrow", marks=True),
    Column("due", "Due", sample="30 / 30", align=Align.RIGHT),
    Column("why", "Why", sample="30 swarm check", slack=True, whole=True),
    Column("work", "Work", sample="12 h 45", align=Align.RIGHT),
    Column("home", "Home", "km", sample="27.3", align=Align.RIGHT),
)
CHIPS = (
    ("all", "All due"), ("swarm_check", "Swarm check"), ("strips_out", "Strips"), ("light", "Light"),
    ("super", "Supers"), ("graft", "Grafts"),
)  # fmt: skip
_PRESSING: dict[str, tuple[Mark, Token]] = {
    "late": (Mark.LATE, "now"),
    "today": (Mark.TODAY, "watch"),
    "odd": (Mark.ODD, "ink2"),
}


def due_row(line: SiteDue, today: date) -> Row:
    """A site to go to as a row."""
    cells = (
        Cell(line.site, weight=600),
        late_cell(line, today),
        Cell(f"{line.colonies_due} / {line.colonies}", align=Align.RIGHT),
        Cell(line.words, runs=why_runs(line.words)),
        Cell(work_words(line.minutes), align=Align.RIGHT),
        BLANK
        if line.metres_from_home is None
        else Cell(kilometres(line.metres_from_home), "ink2", align=Align.RIGHT),
    )
    sort = (
        line.site.casefold(),
        line.earliest_on,
        line.colonies_due,
        line.words,
        line.minutes,
        line.metres_from_home,
    )
    return Row(line.site_id, cells, sort, f"{line.site} {line.code} {line.words} {line.grade}")


def late_cell(line: SiteDue, today: date) -> Cell:
    """How pressing: "6 late", "today", "tomorrow", "in 3"."""
    days = (line.earliest_on - today).days
    if line.grade is Grade.LATE:
        return Cell(f"{-days} late", "now", mark=Mark.LATE, spoken=f"late, {counted(-days, 'day')}")
    words = {0: "today", 1: "tomorrow"}.get(days, f"in {days}")
    spoken = f"due {words}" if days < 2 else f"due in {days} days"
    return Cell(words, INKS[line.grade], mark=MARKS[line.grade], spoken=spoken)


def why_runs(words: str) -> tuple[Run, ...]:
    """The counted words with the numbers strong."""
    runs: list[Run] = []
    for at, part in enumerate(words.split(" · ")):
        if at:
            runs.append(Run("·", "ink3", gap=6))
        number, _, rest = part.partition(" ")
        runs += [Run(number, "ink", 600), Run(rest, gap=6)]
    return tuple(runs)


def work_words(minutes: int) -> str:
    """As "45 min", "2 h 05"."""
    hours, rest = divmod(minutes, 60)
    return f"{hours} h {rest:02d}" if hours else f"{rest} min"


def has_reason(line: SiteDue, code: str) -> bool:
    """Whether a kind of reason is among those of a site."""
    wanted = reason_figures()[code].words
    return any(part.partition(" ")[2] == wanted for part in line.words.split(" · "))


def shapes(found: Morning, today: date) -> list[MapSite]:
    """Every site with a place: the pressing ones with their shape, the others as points, home as a house."""
    made = []
    for line in found.sites:
        is_home = found.home is not None and found.home[0] == line.site
        held = line.site_id in found.restricted
        words = f"{late_cell(line, today).text}, {line.words}"
        made.append(
            MapSite(
                line.site_id, line.site, line.easting_m, line.northing_m, line.latitude_e6, line.longitude_e6,
                line.colonies, Mark.HELD if held else MARKS[line.grade], is_home,
                f"restricted, nothing leaves without a licence; {words}" if held else words,
            )
        )  # fmt: skip
    made += [
        MapSite(
            number, name, east, north, mark=Mark.HELD, words="restricted, nothing leaves without a licence"
        )
        if number in found.restricted
        else MapSite(number, name, east, north)
        for number, name, east, north in found.places
    ]
    if found.home is not None and all(not site.home for site in made):
        name, east, north = found.home
        made.append(MapSite("home", name, east, north, home=True))
    return made


def driving_order(lines: Sequence[SiteDue], home: tuple[str, int, int] | None) -> list[SiteDue]:
    """The chosen sites from home always on to the nearest; as chosen where home is not known."""
    if home is None:
        return list(lines)
    spots = {str(line.site_id): spot for line in lines if (spot := _spot(line)) is not None}
    by_id = {str(line.site_id): line for line in lines}
    return [by_id[key] for key in nearest_next(GridReference(home[1], home[2]), spots)]


def chosen_words(lines: Sequence[SiteDue], home: tuple[str, int, int] | None) -> tuple[list[Run], list[Run]]:
    """The foot: how many, the work, and an estimate of the drive."""
    if not lines:
        return [Run("No site chosen", gap=10)], [
            Run("Tick sites with the mouse or the space bar", small=True)
        ]
    hives = sum(line.colonies_due for line in lines)
    first = [Run(f"{counted(len(lines), 'site')} chosen", "ink", 600, gap=10), Run(f"{hives:,} hives due")]
    second = f"{work_words(sum(line.minutes for line in lines))} of work"
    spots = [spot for line in driving_order(lines, home) if (spot := _spot(line)) is not None]
    if home is not None and spots:
        drive = round_estimate(GridReference(home[1], home[2]), spots)
        second += f" · about {kilometres(drive.metres)} km and {work_words(drive.minutes)} of driving"
    return first, [Run(second, small=True)]


def pressing_facts(found: Sequence[Pressing], today: date) -> list[Fact]:
    """What cannot wait, as lines that lead there."""
    facts = []
    for at, one in enumerate(found):
        mark, ink = _PRESSING[one.grade]
        when = when_words(one.when_on, today) if one.when_on else ""
        facts.append(Fact(one.title, when, mark, one.why, weight=600, value_ink=ink, key=at))
    return facts


def _spot(line: SiteDue) -> Spot | None:
    if line.easting_m is not None and line.northing_m is not None:
        return GridReference(line.easting_m, line.northing_m)
    if line.latitude_e6 is None or line.longitude_e6 is None:
        return None
    return LatLon(line.latitude_e6 / 1_000_000, line.longitude_e6 / 1_000_000)
