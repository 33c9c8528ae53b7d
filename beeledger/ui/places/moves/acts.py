"""What becomes of a move that is typed: read against the record, posted, corrected, delivered or kept as a plan."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from beeledger.base.errors import Refused
from beeledger.operations.act import Done
from beeledger.operations.moves import correct_move, deliver_move, plan_move, post_move
from beeledger.queries.move_typing import ReadMove, TypedMove, read_move
from beeledger.ui.desk.desk import Desk
from beeledger.ui.places.moves.forms import MoveForm
from beeledger.ui.widgets.cells import Run

Then = Callable[[Done], None]


def read(
    desk: Desk, form: MoveForm, typed: TypedMove, then: Callable[[ReadMove], None] | None = None
) -> None:
    """Read what is typed against the record; the form says what there is to say."""
    clock = desk.clock
    desk.read(
        read_move, typed, clock.zone, clock.today(), owner=form, key="typing", then=then or form.show_read
    )


def post(desk: Desk, form: MoveForm, typed: TypedMove, then: Then) -> None:
    """Read once more what is typed, and post it when nothing holds it."""

    def ready(found: ReadMove) -> None:
        form.show_read(found)
        move = found.move
        if move is None or not form.main.isEnabled():
            return
        if found.against and not typed.sheet_is_right:
            said = f"{len(found.against)} against the record: Ctrl+R accepts the sheet"
            form.foot.say([Run(said, "watch", 600, small=True)])
            return
        number, refused = typed.instead_of, partial(told, form)
        if number is None or form.card is None:
            desk.act(post_move, move, owner=form, then=then, refused=refused)
        else:
            act = deliver_move if form.card.row.state == "planned" else correct_move
            desk.act(act, number, move, owner=form, then=then, refused=refused)

    read(desk, form, typed, ready)


def plan(desk: Desk, form: MoveForm, typed: TypedMove, then: Then) -> None:
    """Keep what is typed as a plan; where the hives stand is asked when it is delivered."""

    def ready(found: ReadMove) -> None:
        if found.move is None:
            form.show_read(found)
        else:
            desk.act(plan_move, found.move, owner=form, then=then, refused=partial(told, form))

    read(desk, form, typed, ready)


def told(form: MoveForm, refusal: Refused) -> None:
    """Another desk was quicker, or the record changed: say what holds the move now."""
    form.show_findings(refusal.findings)
