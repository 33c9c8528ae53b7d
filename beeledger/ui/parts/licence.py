"""The licence that lets something out of a restricted place: fields that come when it is asked for."""

from __future__ import annotations

from beeledger.rules.restrictions import Licence
from beeledger.ui.parts.typed_form import Typed
from beeledger.ui.widgets.field import Field
from beeledger.ui.widgets.form import Form


def add_licence(form: Form) -> None:
    """Room for a licence in a form; hidden until a finding wants one."""
    form.add_when_asked(
        {
            "licence": Field("Licence: its number", prompt="as it stands on the paper"),
            "licence_by": Field("Issued by", message=False),
            "licence_on": Field("Issued on", width=130),
            "licence_for": Field("What it is for", message=False),
        }
    )


def licence_in(typed: Typed) -> Licence:
    """The licence as typed."""
    return Licence(
        typed.text("licence"), typed.text("licence_by"), typed.day("licence_on"), typed.text("licence_for")
    )
