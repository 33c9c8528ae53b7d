"""What is done to the chosen colonies: each act opens its form in the side pane, and carries out what was typed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from typing import TYPE_CHECKING, Any

from beeledger.operations.act import Done
from beeledger.operations.colonies import end_colonies, give_mark
from beeledger.operations.colony_acts import bring_back, change_boxes, feed_colonies, treat_colonies
from beeledger.operations.colony_making import give_frames, make_nucleus, split_colony, unite_colonies
from beeledger.operations.colony_work import Answers
from beeledger.operations.hive_marks import swap_marks
from beeledger.operations.putting_off import ask_task, finish_task, put_off_due
from beeledger.operations.queens import end_queen, put_queen
from beeledger.queries.medicines import packs
from beeledger.queries.records.colonies import ColonyLine
from beeledger.queries.records.medicines import PackRow
from beeledger.queries.records.sites import SiteName
from beeledger.queries.sites import open_sites
from beeledger.ui.parts.put_off_form import put_off_form, task_form
from beeledger.ui.parts.typed_form import TypedForm
from beeledger.ui.places.colonies import work_forms as forms
from beeledger.ui.places.colonies.acts import (
    Ending,
    Numbering,
    Requeening,
    end_form,
    names_of,
    number_form,
    requeen_form,
)
from beeledger.ui.places.colonies.work_reading import Gone, Hives
from beeledger.ui.widgets.field import Field

if TYPE_CHECKING:
    from beeledger.ui.places.colonies.place import Here

Way = tuple[str, str, bool]
WAYS: dict[str, Way] = {
    # the act's name: its word on the card, its chord, whether it works on many
    "round": ("Round", "Ctrl+Shift+R", False),
    "move": ("Move", "Ctrl+Shift+M", True),
    "feed": ("Feed", "Ctrl+Shift+F", True),
    "treat": ("Treat", "Ctrl+Shift+T", True),
    "split": ("Split", "Ctrl+Shift+S", False),
    "nucleus": ("Nucleus", "Ctrl+Shift+N", True),
    "unite": ("Unite", "Ctrl+Shift+U", True),
    "give": ("Give a frame", "Ctrl+Shift+G", False),
    "boxes": ("Boxes", "Ctrl+Shift+B", True),
    "requeen": ("Requeen", "Ctrl+Shift+Q", False),
    "queen_gone": ("Queen gone", "Ctrl+Shift+X", False),
    "put_off": ("Put off", "Ctrl+Shift+O", True),
    "task": ("Task", "Ctrl+Shift+A", True),
    "number": ("Number", "Ctrl+Shift+L", False),
    "end": ("End", "Ctrl+Shift+E", True),
}
"""The acts on living colonies, in the order of the card."""


class ColonyWork:
    """The acts of the place on the colonies chosen in its table."""

    def __init__(self, place: Here) -> None:
        self._place = place

    def act(self, name: str) -> Callable[[], None]:
        """The act of a name, for a button or a chord; on one colony only, where it cannot work on many."""
        many = WAYS[name][2]

        def do() -> None:
            chosen = [line for line in self._place.chosen_lines() if line.ended_on is None]
            if chosen and (many or len(chosen) == 1):
                getattr(self, f"_{name}")(chosen)
            elif chosen:
                self._place.desk.say(f"{WAYS[name][0]} works on one hive", "watch", "Choose one in the table")

        return do

    def bring_back(self) -> None:
        """Open the form for a colony that ended by mistake."""
        for line in self._place.chosen_lines()[:1]:
            if line.ended_on is not None:
                self._bring_back(line.colony_id, self._place.last_mark)

    def _bring_back(self, number: int, old: str) -> None:
        form = forms.back_form(names_of([old or None]), old, self._today)

        def brought(_done: Done) -> None:
            self._place.show_what(number)

        def ready(mark: str) -> None:
            self._place.post(form, bring_back, number, mark or None, Answers(form.asked), then=brought)

        self._place.show_form(form, "back", ready)

    @property
    def _today(self) -> date:
        return self._place.desk.clock.today()

    def _ask(
        self, form: TypedForm, name: str, operation: Callable[..., str], make: Callable[[Any], Sequence[Any]]
    ) -> None:
        """Show a form; what is read goes to the act with what was accepted, and the licence where one is wanted."""
        if "reason" not in form.fields:
            form.add_when_asked({"reason": Field("Licence: its number", prompt="as it stands on the paper")})

        def ready(thing: Any) -> None:
            answers = Answers(form.asked, form.values()["reason"] or None)
            self._place.post(form, operation, *make(thing), answers)

        self._place.show_form(form, name, ready)

    def _hives(self) -> Hives:
        living = [line for line in self._place.lines.values() if line.mark and line.ended_on is None]
        return Hives(
            {line.mark or "": line.colony_id for line in living},
            {line.mark or "": line.site for line in living},
        )

    def _with_sites(self, then: Callable[[list[SiteName]], None]) -> None:
        self._place.desk.read(open_sites, owner=self._place, then=then, key="sites")

    def _split(self, chosen: list[ColonyLine]) -> None:
        line = chosen[0]

        def offered(sites: list[SiteName]) -> None:
            form = forms.split_form(names_of([line.mark]), line.colony_id, line.site_id, sites, self._today)
            self._ask(form, "split", split_colony, lambda made: (made.on, made.daughters))

        self._with_sites(offered)

    def _nucleus(self, chosen: list[ColonyLine]) -> None:
        marks = [line.mark for line in chosen if line.mark]

        def offered(sites: list[SiteName]) -> None:
            form = forms.nucleus_form(marks, self._hives(), chosen[0].site_id, sites, self._today)
            self._ask(form, "nucleus", make_nucleus, lambda made: (made.on, made.daughters[0]))

        self._with_sites(offered)

    def _unite(self, chosen: list[ColonyLine]) -> None:
        marks = [line.mark for line in chosen]
        form = forms.unite_form(
            names_of(marks), _ids(chosen), [mark for mark in marks if mark], chosen[0].site, self._hives(), self._today
        )  # fmt: skip
        self._ask(form, "unite", unite_colonies, lambda new: (new.on, new.uniting))

    def _give(self, chosen: list[ColonyLine]) -> None:
        form = forms.give_form(names_of([chosen[0].mark]), chosen[0].colony_id, self._hives(), self._today)
        self._ask(form, "give", give_frames, lambda new: (new.on, new.gift, new.to_ids))

    def _feed(self, chosen: list[ColonyLine]) -> None:
        form = forms.feed_form(_names(chosen), self._today)
        self._ask(form, "feed", feed_colonies, lambda new: (_ids(chosen), new.on, new.feed))

    def _treat(self, chosen: list[ColonyLine]) -> None:
        def offered(rows: list[PackRow]) -> None:
            form = forms.treat_form(_names(chosen), rows, self._today)
            self._ask(form, "treat", treat_colonies, lambda new: (_ids(chosen), new.on, new.dose))

        self._place.desk.read(packs, owner=self._place, then=offered, key="packs")

    def _boxes(self, chosen: list[ColonyLine]) -> None:
        form = forms.boxes_form(_names(chosen), self._today)
        self._ask(form, "boxes", change_boxes, lambda new: (_ids(chosen), new.on, new.change))

    def _put_off(self, chosen: list[ColonyLine]) -> None:
        form = put_off_form(_names(chosen), self._today, colony_ids=tuple(_ids(chosen)))
        self._place.show_form(form, "put_off", lambda wanted: self._place.post(form, put_off_due, wanted))

    def _task(self, chosen: list[ColonyLine]) -> None:
        form = task_form(_names(chosen), self._today, tuple(_ids(chosen)))
        self._place.show_form(form, "task", lambda new: self._place.post(form, ask_task, new))

    def finish(self, colony_id: int, what: str) -> None:
        """Ask whether a task is done."""
        form = TypedForm(
            f"Is it done: {what}?", "It is done", lambda _typed: what, self._today, "Escape leaves it open."
        )
        self._place.show_form(
            form, "finish", lambda said: self._place.post(form, finish_task, colony_id, said)
        )
        form.main.setFocus()

    def _queen_gone(self, chosen: list[ColonyLine]) -> None:
        form = forms.queen_gone_form(_names(chosen), self._today)

        def ready(gone: Gone) -> None:
            self._place.post(form, end_queen, chosen[0].colony_id, gone.on, gone.why)

        self._place.show_form(form, "queen_gone", ready)

    def _requeen(self, chosen: list[ColonyLine]) -> None:
        form = requeen_form(_names(chosen), self._today)

        def ready(new: Requeening) -> None:
            self._place.post(form, put_queen, chosen[0].colony_id, new.queen, new.on, new.why, form.asked)

        self._place.show_form(form, "requeen", ready)

    def _number(self, chosen: list[ColonyLine]) -> None:
        form, line = number_form(_names(chosen), self._today), chosen[0]

        def ready(new: Numbering) -> None:
            if new.swap:
                self._place.post(form, swap_marks, line.mark or "", new.mark, new.on)
            else:
                self._place.post(form, give_mark, line.colony_id, new.mark, new.on)

        self._place.show_form(form, "number", ready)

    def _end(self, chosen: list[ColonyLine]) -> None:
        form = end_form(_names(chosen), self._today)

        def ready(ending: Ending) -> None:
            self._place.post(form, end_colonies, _ids(chosen), ending.on, ending.cause)

        self._place.show_form(form, "end", ready)

    def _move(self, chosen: list[ColonyLine]) -> None:
        """Moves opens with the hives; a move leaves one site."""
        if len({line.site_id for line in chosen}) > 1:
            self._place.desk.say(
                "The chosen hives stand at several sites",
                "watch",
                "A move leaves one site; choose hives of one",
            )
            return
        marks = ", ".join(line.mark for line in chosen if line.mark)
        self._place.desk.open_place("moves", ("new", chosen[0].site_id, marks))

    def _round(self, chosen: list[ColonyLine]) -> None:
        if chosen[0].site_id is not None:
            self._place.desk.open_place("rounds", chosen[0].site)


def _ids(chosen: Sequence[ColonyLine]) -> list[int]:
    return [line.colony_id for line in chosen]


def _names(chosen: Sequence[ColonyLine]) -> str:
    return names_of([line.mark for line in chosen])
