"""What is due in the settings: each reason with its figures, read back and saved as one act."""

from __future__ import annotations

from dataclasses import replace

import pytest

from beeledger.queries.farm import new_farm
from beeledger.rules.due import adjustables, reason_figures
from beeledger.ui.places.settings.due_form import DueForm, due_changes


@pytest.fixture
def form(qtbot):
    made = DueForm()
    qtbot.addWidget(made)
    made.fill(new_farm())
    return made


def test_every_figure_and_every_reason_that_may_go_has_its_field(form):
    wanted = {one.name for one in adjustables()}
    wanted |= {f"on_{code}" for code, reason in reason_figures().items() if not reason.always}
    assert set(form.fields) == wanted
    assert form.fields["swarm_from"].value() == "1 Apr"
    assert form.fields["every_days"].editor.accessibleName() == "Days from look to look (shipped 7)"


def test_nothing_typed_changes_nothing(form):
    assert due_changes(new_farm(), form.values()) == ({}, [])


def test_a_figure_a_day_and_a_switch_are_saved_and_the_shipped_figure_is_no_own_one(form):
    form.set_values({"every_days": "6", "swarm_from": "15 Apr", "on_heft": "no"})
    wanted, wrong = due_changes(new_farm(), form.values())
    assert wrong == []
    assert wanted == {"due": (("every_days", 6), ("swarm_from", "04-15")), "due_off": ("heft",)}
    own = replace(new_farm(), due=(("every_days", 6),), due_off=("heft",))
    form.fill(own)
    assert form.fields["every_days"].value() == "6"
    form.set_values({"every_days": "7"})
    assert due_changes(own, form.values())[0] == {"due": ()}


@pytest.mark.parametrize(
    ("name", "text"), [("every_days", "40"), ("every_days", "x"), ("swarm_from", "31 Feb")]
)
def test_what_cannot_be_is_said_beside_its_field(form, name, text):
    form.set_values({name: text})
    (finding,) = due_changes(new_farm(), form.values())[1]
    assert finding.where.field == name
