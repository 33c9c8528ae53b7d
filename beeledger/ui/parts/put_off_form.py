"""The forms that put off what is due, with a note, and that ask for a task."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date, timedelta

from beeledger.base.dates import long
from beeledger.operations.putting_off import NewTask, PuttingOff
from beeledger.rules.due import reason_figures
from beeledger.ui.parts.typed_form import Typed, TypedForm
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.field import Field

ALL = "all"
_AHEAD = timedelta(days=364)
"""A day typed without its year is to come: it is read as one of the year from today."""
_NOTE = "It comes back on that day. What answers it ends it before: a look, a count, strips taken out."
_CAUTION = (
    "A swarm, a hungry colony and medicine left in do not wait: the label and the bees stand above a plan."
)


def put_off_form(
    names: str, today: date, *, colony_ids: Sequence[int] = (), site_ids: Sequence[int] = (), code: str = ALL
) -> TypedForm:
    """Put off what presses at colonies or at sites, or one kind of reason there."""
    read = _reading(tuple(colony_ids), tuple(site_ids))
    form = TypedForm(f"Put off at {names}", "Put it off", read, today + _AHEAD, _NOTE)
    kinds = [(key, figures.title) for key, figures in reason_figures().items() if figures.scope == "colony"]
    form.add("what", Field("What", code, editor=Choice([(ALL, "everything that presses now"), *kinds])))
    form.add_side_by_side(
        {
            "until": Field("Until", long(today + timedelta(days=7)), width=150),
            "by_whom": Field("By whom", prompt="initials", width=150),
        }
    )
    form.add("note", Field("Why", prompt="rain, van at the garage"))
    form.caution(_CAUTION)
    return form


def task_form(names: str, today: date, colony_ids: tuple[int, ...]) -> TypedForm:
    """Ask for something to be done by a day."""

    def read(typed: Typed) -> NewTask | None:
        what, due_on = (
            typed.wanted("what", "a task says what is to be done"),
            typed.day("due_on", needed=True),
        )
        return NewTask(what, due_on, colony_ids) if what and due_on else None

    note = "It stands among what is due until Enter on its line says that it is done."
    form = TypedForm(f"A task at {names}", "Ask for it", read, today + _AHEAD, note)
    form.add("what", Field("What is to be done", prompt="mend the roof"))
    form.add("due_on", Field("By", long(today), width=150))
    return form


def _reading(colony_ids: tuple[int, ...], site_ids: tuple[int, ...]) -> Callable[[Typed], PuttingOff | None]:
    def read(typed: Typed) -> PuttingOff | None:
        until, note = typed.day("until", needed=True), typed.wanted("note", "a putting off says why")
        what = typed.text("what")
        codes = () if what in ("", ALL) else (what,)
        if until is None or not note:
            return None
        return PuttingOff(until, note, typed.text("by_whom"), colony_ids, site_ids, codes)

    return read
