"""The card of one site: what stands there, how to get in, who was there, what is near."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date

from beeledger.base.dates import long, short
from beeledger.base.text import counted
from beeledger.base.units import kilometres, money
from beeledger.queries.records.restrictions import SiteOfficial
from beeledger.queries.records.sites import SiteCard, SiteLine
from beeledger.rules.due import grade
from beeledger.rules.restrictions import first_words
from beeledger.ui.parts.due_words import INKS, MARKS, due_cell, when_words
from beeledger.ui.parts.queen_mark import queen_cell
from beeledger.ui.places.sites.official import HEADING, force_facts, record_facts
from beeledger.ui.places.sites.table import KINDS
from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.card import Card
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.fact_rows import Fact, FactRows
from beeledger.ui.widgets.flow import Flow
from beeledger.ui.widgets.key_figures import Figure, KeyFigures
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.words import Words

Acts = Mapping[str, Callable[[], None]]
_NAMES = ("standing", "way", "visits", "near", "contracts", "losses")
_NOTHING = {
    "standing": "No hive stands here", "way": "Nothing is written of gate, key or landholder",
    "visits": "No round was posted here yet", "near": "No other site", "contracts": "No contract", "losses": "None",
}  # fmt: skip


class PlaceCard(Card):
    """One site. ``go`` opens a place of the window at something in it."""

    def __init__(
        self,
        acts: Acts,
        official: Acts,
        go: Callable[[str, object], None],
        open_official: Callable[[object], None],
    ) -> None:
        super().__init__()
        self.setObjectName("sites.card")
        self.buttons = {word: Button(word, act) for word, act in acts.items()}
        for word, button in self.buttons.items():
            button.setObjectName(f"sites.card.{word.lower().replace(' ', '_')}")
        self.head.set_acts(*self.buttons.values())
        self.force = FactRows(marks=True, middle_at=90)
        self.section("force", HEADING, self.force).setObjectName("sites.card.force")
        self.spray = FactRows(marks=True, middle_at=90)
        self.section("spray", "Spray notices", self.spray).setObjectName("sites.card.spray")
        self.figures = KeyFigures()
        self.add(self.figures)
        titles = {
            "standing": "What stands here now", "way": "The way in and the land", "visits": "Visits", "near": "Within reach",
            "contracts": "Contracts", "losses": "Lost here",
        }  # fmt: skip
        self.rows = {name: FactRows(marks=name == "standing", middle_at=150) for name in _NAMES}
        for name in _NAMES:
            self.section(name, titles[name], self.rows[name]).setObjectName(f"sites.card.{name}")
            if name == "way":
                self._lay_out_official(official)
        self.rows["standing"].opened.connect(lambda colony: go("colonies", colony))
        self.rows["contracts"].opened.connect(lambda contract: go("pollination", contract))
        self.rows["near"].opened.connect(lambda site: go("sites", site))
        for rows in (self.force, self.official):
            rows.opened.connect(open_official)
        self.show_nothing()

    def _lay_out_official(self, acts: Acts) -> None:
        """What the authority does here, with its own acts under it."""
        self.official = FactRows(marks=True, middle_at=150)
        self.official_buttons = {word: Button(word, act) for word, act in acts.items()}
        for word, button in self.official_buttons.items():
            button.setObjectName(f"sites.card.official.{word.lower().replace(' ', '_')}")
        self.first = Words(first_words(), role="small", ink="ink2", wrap=True)
        self.first.setContentsMargins(look.px(16), look.px(4), look.px(16), look.px(4))
        row = Flow(gap=6)
        row.setContentsMargins(look.px(16), 0, look.px(16), look.px(8))
        row.set_widgets(*self.official_buttons.values())
        section = self.section("official", "Inspectors, samples, restrictions", self.official)
        section.setObjectName("sites.card.official")
        section.add(self.first)
        section.add(row)

    def show_official(self, official: SiteOfficial, today: date) -> None:
        """What is in force stands first; the rest in a section of its own."""
        force = force_facts(official)
        self.force.say(force)
        self.sections["force"].setVisible(bool(force))
        self.official.say(record_facts(official, today) or [Fact("Nothing is written of any", ink="ink2")])
        self.sections["official"].show()
        self.official_buttons["Release"].setVisible(bool(official.in_force))

    def show_spray(self, facts: list[Fact]) -> None:
        """Notices of spraying whose circle the site is in."""
        self.spray.say(facts)
        self.sections["spray"].setVisible(bool(facts))

    def show_nothing(self) -> None:
        """Nothing is chosen."""
        self.say("No site chosen", (), "Choose one in the table or on the map.")
        for piece in (self.figures, *self.sections.values(), *self.buttons.values()):
            piece.hide()

    def show_site(self, card: SiteCard, today: date) -> None:
        """Fill the card."""
        line = card.line
        self.say(
            line.name, [Run(line.code, "ink", 600), Run(dict(KINDS)[line.kind])], facts_line(card, today)
        )
        self.figures.say(key_figures(card, today))
        filled = {
            "standing": standing(card, today), "way": way_in(card), "visits": visits(card), "near": near(card),
            "contracts": contracts(card), "losses": losses(card),
        }  # fmt: skip
        for name, facts in filled.items():
            self.rows[name].say(facts or [Fact(_NOTHING[name], ink="ink2")])
        self._summaries(card)
        # Shown only when filled: a layout asked for while it is hidden would keep the empty sizes.
        self.figures.show()
        for name, facts in filled.items():
            self.sections[name].setVisible(bool(facts) or name in ("standing", "way", "visits"))
        for button in self.buttons.values():
            button.setVisible(line.closed_on is None)

    def _summaries(self, card: SiteCard) -> None:
        self.sections["standing"].say(counted(len(card.standing), "colony", "colonies"))
        self.sections["visits"].say(f"last {long(card.visits[0].on)}" if card.visits else "")
        self.sections["near"].say(f"{counted(len(card.near), 'site')} within {card.near_m // 1000} km")
        self.sections["losses"].say(counted(sum(one.colonies for one in card.losses), "colony", "colonies"))


def facts_line(card: SiteCard, today: date) -> str:
    """Where it is and by whose leave."""
    line = card.line
    where = line.grid or (degrees(line) if line.latitude_e6 is not None else "")
    leave = ""
    if line.permission_until is not None:
        ended = line.permission_until < today
        leave = f"permission {'ended' if ended else 'until'} {long(line.permission_until)}"
    given_up = f"given up {long(line.closed_on)}" if line.closed_on else ""
    return " · ".join(part for part in (where, line.landholder, leave, given_up) if part)


def degrees(line: SiteLine) -> str:
    """Latitude and longitude as a telephone takes them."""
    if line.latitude_e6 is None or line.longitude_e6 is None:
        return ""
    return f"{line.latitude_e6 / 1e6:.5f}, {line.longitude_e6 / 1e6:.5f}".replace("-", "−")


def key_figures(card: SiteCard, today: date) -> list[Figure]:
    """What stands there, room left, what is due, how far it is."""
    line = card.line
    figures = [
        Figure("Hives", str(line.colonies), f"of {line.capacity}" if line.capacity is not None else "")
    ]
    if line.capacity is not None:
        left = line.capacity - line.colonies
        figures.append(
            Figure(
                "Room left",
                str(max(0, left)),
                "",
                "" if left >= 0 else f"{-left} too many",
                Mark.ODD if left < 0 else None,
            )
        )
    if line.due_on is not None:
        how = grade(line.due_on, today)
        figures.append(
            Figure(
                "Due", str(line.colonies_due), "hives", when_words(line.due_on, today), MARKS[how], INKS[how]
            )
        )
    if line.metres_from_home is not None:
        figures.append(Figure("Home", kilometres(line.metres_from_home), "km", "in a straight line"))
    return figures


def standing(card: SiteCard, today: date) -> list[Fact]:
    """Each hive in walking order with its queen and what is due first."""
    ordered = sorted(
        card.standing, key=lambda one: (one.stand is None, one.stand or 0, one.number or 0, one.mark or "")
    )
    found = []
    for line in ordered:
        queen = queen_cell(
            line.queen_year, line.queen_marked, line.queen_tag, line.queen_state, line.queen_state_on
        )
        due = due_cell(line.due_code, line.due_on, today)
        found.append(
            Fact(
                line.mark or "no number", due.text, due.mark, middle=queen.text, middle_disc=queen.disc, weight=600,
                value_ink=due.ink, key=line.colony_id,
            )
        )  # fmt: skip
    return found


def way_in(card: SiteCard) -> list[Fact]:
    """Gate and key, landholder and rent, forage and neighbours; only what is known."""
    rent = [money(card.rent_pence)] if card.rent_pence else []
    rent += [counted(card.rent_jars, "jar")] if card.rent_jars else []
    who = " · ".join(
        part for part in (card.line.landholder, card.landholder_person, card.landholder_phone) if part
    )
    lines = (
        ("Way in", card.way_in), ("Landholder", who), ("Rent a year", " and ".join(rent)), ("Forage", card.forage),
        ("Other bees near", card.other_bees), ("Set-down places", ", ".join(card.set_down)),
        ("Apiary number", card.apiary_number), ("Degrees", degrees(card.line)), ("Note", card.note),
    )  # fmt: skip
    return [Fact(name, middle=words) for name, words in lines if words]


def visits(card: SiteCard) -> list[Fact]:
    """The last rounds here."""
    return [
        Fact(
            long(one.on),
            counted(one.hives, "hive"),
            middle=" · ".join(part for part in (one.crew, one.weather) if part),
        )
        for one in card.visits
    ]


def near(card: SiteCard) -> list[Fact]:
    """Own sites within reach of a disease."""
    return [
        Fact(
            one.name,
            f"{kilometres(one.metres)} km",
            middle=counted(one.colonies, "colony", "colonies"),
            key=one.site_id,
        )
        for one in card.near
    ]


def contracts(card: SiteCard) -> list[Fact]:
    """Contracts at this site, newest first."""
    return [
        Fact(one.name, one.state, middle=f"{one.crop}, {counted(one.hives, 'hive')}, {short(one.on_on)} to {long(one.off_on)}", key=one.contract_id)
        for one in card.contracts
    ]  # fmt: skip


def losses(card: SiteCard) -> list[Fact]:
    """Colonies lost while they stood here, by year and cause."""
    return [Fact(str(one.year), str(one.colonies), middle=one.cause.replace("_", " ")) for one in card.losses]
