"""The card of one queen: where she was, what her colonies' records say, her kin."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from beeledger.base.dates import long
from beeledger.base.text import counted
from beeledger.base.units import frames, kilograms, per_cent
from beeledger.queries.pedigrees import mated_words
from beeledger.queries.records.queens import ColoniesSay, ColonySays, QueenCard, QueenLine, QueenName
from beeledger.ui.parts.queen_mark import queen_disc, queen_words
from beeledger.ui.places.queens.table import state_cell
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.card import Card
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.fact_rows import Fact, FactRows
from beeledger.ui.widgets.words import Words

_FEW = 3
"""A mean of fewer looks than this is called thin."""


class QueenCardView(Card):
    """One queen, and the acts on her."""

    def __init__(self, acts: Mapping[str, Callable[[], object]]) -> None:
        super().__init__()
        self.setObjectName("queens.card")
        self.shown: QueenCard | None = None
        self.buttons = {word: Button(word, act) for word, act in acts.items()}
        for word, button in self.buttons.items():
            button.setObjectName(f"queens.card.{word.split()[0].lower()}")
        self.head.set_acts(*self.buttons.values())
        self.rows = {
            key: FactRows(marks=key in ("sisters", "daughters"))
            for key in ("says", "stood", "sisters", "daughters")
        }
        self.section("queens.says", "What her colonies' records say", self.rows["says"])
        self.section("queens.stood", "Colonies", self.rows["stood"])
        self.mating = Words("", wrap=True)
        self.section("queens.mating", "Mating", self.mating, inset=16)
        self.section("queens.sisters", "Sisters", self.rows["sisters"])
        self.section("queens.daughters", "Daughters", self.rows["daughters"])
        self.note = Words("", wrap=True)
        self.section("queens.note", "Note", self.note, inset=16)
        self.show_nothing()

    def show_nothing(self) -> None:
        """No queen is chosen."""
        self.shown = None
        self.say("No queen chosen", (), "Choose one in the table, or enter a new one (Ctrl+N).")
        for button in self.buttons.values():
            button.off("No queen is chosen")
        for section in self.sections.values():
            section.hide()

    def show_queen(self, card: QueenCard) -> None:
        """Fill the card."""
        self.shown = card
        line = card.line
        self.say(line.name[:1].upper() + line.name[1:], identity(line), facts(line))
        for word, button in self.buttons.items():
            if line.ended_on is not None and word in ("Introduce", "Graft", "End"):
                button.off("She has ended")
            else:
                button.on()
        self.rows["says"].say(says_facts(card.says))
        self.rows["stood"].say(stood_facts(card))
        self.mating.setText(mating_words(card))
        self.rows["sisters"].say(kin_facts(card.sisters))
        self.rows["daughters"].say(kin_facts(card.daughters))
        self.note.setText(line.note or "")
        self._summaries(card)

    def _summaries(self, card: QueenCard) -> None:
        shown = {
            "queens.says": "" if says_facts(card.says) else "nothing written yet",
            "queens.stood": counted(len(card.tenures), "colony", "colonies") if card.tenures else "none",
            "queens.mating": "" if card.mated else "not recorded",
            "queens.sisters": kin_words(card.sisters) if card.line.dam_id else "dam not recorded",
            "queens.daughters": kin_words(card.daughters),
            "queens.note": "",
        }
        for key, words in shown.items():
            self.sections[key].say(words)
            self.sections[key].show()
        self.sections["queens.note"].setVisible(bool(card.line.note))
        self.mating.setVisible(card.mated is not None)


def identity(line: QueenLine) -> list[Run]:
    """Beside the title: her colour as disc and word, clipped."""
    disc = queen_disc(line.year, line.marked)
    words = disc or ("unmarked" if line.marked is False else "")
    runs = [Run(words, "ink", 600, disc=disc, gap=8)] if words else []
    return [*runs, Run("clipped")] if line.clipped else runs


def facts(line: QueenLine) -> str:
    """The line under the title."""
    place = ""
    if line.colony_id is not None:
        where = f"hive {line.hive}" if line.hive else "a hive without a number"
        place = f"heads {where}{f' at {line.site}' if line.site else ''}"
    state = state_cell(line).text
    when = line.ended_on or line.state_on
    state = f"{state}, {long(when)}" if state and when else state
    parts = (
        f"hatched {line.year}" if line.year else "year not known", f"{line.line} line" if line.line else "",
        line.origin or "", f"dam {line.dam}" if line.dam else "", place, state,
    )  # fmt: skip
    return " · ".join(part for part in parts if part)


def says_facts(says: ColoniesSay) -> list[Fact]:
    """The means of what was recorded, each with what it rests on; what nobody recorded is left out."""
    found = [
        _mean("Temper", says.temper, lambda mean: f"{mean:.1f} of 5", "look"),
        _mean("Brood", says.brood_tenths, lambda mean: f"{frames(round(mean))} frames", "look"),
        _mean(
            "Queen cells found",
            says.cells,
            lambda mean: f"at {round(mean * 100)} % of looks",
            "look",
            "that said",
        ),
        _mean("Mites", says.mites_hundredths, lambda mean: f"{per_cent(round(mean))} %", "count"),
        _honey(says),
    ]
    return [fact for fact in found if fact is not None]


def stood_facts(card: QueenCard) -> list[Fact]:
    """The colonies she headed, newest first."""
    return [
        Fact(
            f"hive {one.hive}" if one.hive else "a hive without a number",
            one.why_ended or ("now" if one.until is None else ""),
            second=f"{long(one.since)} to {long(one.until)}" if one.until else f"since {long(one.since)}",
            key=("colony", one.colony_id),
        )
        for one in reversed(card.tenures)
    ]


def kin_facts(kin: Sequence[QueenName]) -> list[Fact]:
    """Sisters or daughters: where they are, or what they ended of."""
    return [
        Fact(
            queen_words(one.year, one.marked, one.tag) or one.words,
            _fate(one),
            disc=queen_disc(one.year, one.marked),
            key=("queen", one.queen_id),
        )
        for one in kin
    ]


def kin_words(kin: Sequence[QueenName]) -> str:
    """How many live, and how many have ended."""
    if not kin:
        return "none recorded"
    ended = sum(one.ended_on is not None for one in kin)
    return f"{len(kin) - ended} living, {ended} ended"


def mating_words(card: QueenCard) -> str:
    """How she was mated, and the note on it."""
    if card.mated is None:
        return ""
    words = mated_words(card.mated)
    return f"{words[:1].upper()}{words[1:]}. {card.mated.note or ''}".strip()


def _mean(
    name: str, says: ColonySays, words: Callable[[float], str], one: str, more: str = ""
) -> Fact | None:
    if says.mean is None:
        return None
    thin = ": too few to rank by" if says.count < _FEW else ""
    return Fact(
        name,
        words(says.mean),
        second=f"{counted(says.count, one)}{f' {more}' if more else ''}{thin}",
        value_weight=600,
        value_ink="ink",
    )


def _honey(says: ColoniesSay) -> Fact | None:
    if not says.takes:
        return None
    words = f"{kilograms(says.honey_g, 0)} kg" if says.honey_g is not None else counted(says.supers, "super")
    more = f"{counted(says.supers, 'super')} in {counted(says.takes, 'take')}"
    second = f"{more}, estimated when taken" if says.honey_g is not None else f"{more}, not estimated"
    return Fact("Honey taken", words, second=second, value_weight=600, value_ink="ink")


def _fate(one: QueenName) -> str:
    if one.ended_on is not None:
        return f"{one.end_cause}, {one.ended_on.year}" if one.end_cause else f"ended {one.ended_on.year}"
    return f"hive {one.hive}" if one.hive else "in no colony"
