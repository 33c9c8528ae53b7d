"""The forms of what is done to colonies at the desk: split, united, helped, fed, treated."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from beeledger.base.dates import long, short
from beeledger.queries.records.medicines import PackRow
from beeledger.queries.records.sites import SiteName
from beeledger.rules.hive_lists import stretches
from beeledger.rules.rounds.readback import FEEDS
from beeledger.ui.parts.typed_form import TypedForm
from beeledger.ui.places.colonies.acts import KINDS, YES_NO
from beeledger.ui.places.colonies.work_reading import (
    Hives,
    read_back,
    read_boxing,
    read_dosing,
    read_feeding,
    read_giving,
    read_gone,
    read_nucleus,
    read_splitting,
    read_uniting,
)
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.field import Field

_QUEENS = (
    ("", "not said"), ("queen", "the old queen"), ("sealed_cell", "a sealed cell"), ("open_cell", "an open cell"),
    ("virgin", "a virgin"), ("eggs", "eggs, to raise its own"), ("none", "none yet"),
)  # fmt: skip
_NEW_KINDS = (("nucleus", "nucleus"), ("full", "full colony"), ("mating", "mating nucleus"))
_DISEASE = (
    "Nothing goes from a hive with signs of disease into another. If you suspect foul brood or another notifiable "
    "disease, close it, move nothing, and tell the bee inspector."
)


def split_form(
    name: str, colony_id: int, site_id: int | None, sites: Sequence[SiteName], today: date
) -> TypedForm:
    """Make one or several colonies of one."""
    note = "Each new hive gets the same. The old queen goes into the first of them, or stays."
    form = TypedForm(f"Split {name}", "Split it so", read_splitting(colony_id), today, note)
    form.add_side_by_side({"on": _day(today), "hives": Field("Numbers of the new", prompt="41, 42")})
    _place_and_kind(form, site_id, sites)
    form.add_side_by_side(
        {
            "queen": Field("The first gets", editor=Choice(_QUEENS)),
            "rest": Field("The others get", editor=Choice(_QUEENS)),
        }
    )
    _frames(form, "each")
    form.caution(_DISEASE)
    return form


def nucleus_form(
    marks: Sequence[str], hives: Hives, site_id: int | None, sites: Sequence[SiteName], today: date
) -> TypedForm:
    """Make one nucleus of what several hives gave."""
    note = "Each of them gave the same. A queen that goes along is the first one's."
    form = TypedForm("A nucleus from several hives", "Make this nucleus", read_nucleus(hives), today, note)
    form.add_side_by_side(
        {"on": _day(today), "from": Field("From hives", stretches(marks), prompt="3, 7, 12")}
    )
    form.add_side_by_side(
        {"hives": Field("Its number", width=150), "queen": Field("It gets", editor=Choice(_QUEENS))}
    )
    _place_and_kind(form, site_id, sites)
    _frames(form, "each")
    form.caution(_DISEASE)
    return form


def unite_form(
    name: str, ids: Sequence[int], marks: Sequence[str], site: str, hives: Hives, today: date
) -> TypedForm:
    """Put hives into another."""
    form = TypedForm(
        f"Unite {name} with another", "Unite them", read_uniting(tuple(ids), hives), today,
        "What goes into the other ends as united. Boxes that go along are written in Boxes.",
    )  # fmt: skip
    form.add_side_by_side(
        {"on": _day(today), "into": Field("Into hive", editor=Choice(hives.offered(site, marks), free=True))}
    )
    stays = (("into", "the one of the hive it goes into"), ("from", "the one that goes along"))
    form.add("queen", Field("The queen that stays", editor=Choice(stays)))
    form.caution(_DISEASE)
    return form


def give_form(name: str, colony_id: int, hives: Hives, today: date) -> TypedForm:
    """Give frames, bees or cells to other hives."""
    form = TypedForm(f"Give from {name}", "Write this down", read_giving(colony_id, hives), today)
    form.add_side_by_side({"on": _day(today), "to": Field("To hives", prompt="7, 12")})
    _frames(form, "each")
    form.add("cells", Field("Queen cells to each", width=150))
    form.caution(_DISEASE)
    return form


def feed_form(name: str, today: date) -> TypedForm:
    """Feed hives alike."""
    form = TypedForm(f"Feed {name}", "Write this feed down", read_feeding, today)
    form.add_side_by_side({"on": _day(today), "kind": Field("Feed", editor=Choice(list(_feeds())))})
    form.add("amount", Field("To each hive", unit="litres of syrup, kg of what is solid", prompt="5 or 2.5"))
    return form


def treat_form(name: str, packs: Sequence[PackRow], today: date) -> TypedForm:
    """Put medicine into hives, or take it out."""
    note = "What the label says stands above all this. With supers for harvest on, the law wants a reason."
    form = TypedForm(f"Treat {name}", "Write this down", read_dosing, today, note)
    ways = (("in", "put in"), ("out", "taken out"))
    form.add_side_by_side({"on": _day(today), "way": Field("Was", editor=Choice(ways))})
    offered = [("", "choose"), *((str(pack.id), _pack(pack)) for pack in packs)]
    form.add("medicine", Field("Medicine and pack", editor=Choice(offered)))
    form.add_side_by_side(
        {"pieces": Field("Strips or doses a hive", width=150), "reason": Field("Reason, where one is wanted")}
    )
    form.caution("Gloves, and for acids goggles and a mask with the right filter, as the label says.")
    return form


def boxes_form(name: str, today: date) -> TypedForm:
    """Change the boxes of hives; hive a nucleus up."""
    note = "What is left blank stays as it is. A nucleus hived up counts as a full colony from then on."
    form = TypedForm(f"The boxes of {name}", "They stand so", read_boxing, today, note)
    form.add_side_by_side(
        {"on": _day(today), "kind": Field("It is then", editor=Choice([("", "as it was"), *KINDS]))}
    )
    form.add_side_by_side(
        {
            "brood_boxes": Field("Brood boxes", width=112),
            "brood_frames": Field("Frames in each", width=112),
            "supers": Field("Supers on it", width=112),
        }
    )
    form.add_side_by_side(
        {
            "hive_type": Field("Hive", prompt="as it was"),
            "excluder": Field("Excluder", editor=Choice([("", "as it was"), *YES_NO[1:]]), width=150),
        }
    )
    return form


def queen_gone_form(name: str, today: date) -> TypedForm:
    """The queen is gone and no other is there."""
    form = TypedForm(f"The queen of {name} is gone", "She is gone", read_gone, today)
    why = [(word, word) for word in ("lost", "killed", "swarmed", "drone layer", "failed", "sold")]
    form.add_side_by_side({"on": _day(today), "why": Field("Why", editor=Choice(why, free=True))})
    return form


def back_form(name: str, old: str, today: date) -> TypedForm:
    """A colony that was called dead lives."""
    note = "Its place, number and queen run on from its last day, as if it had not ended."
    form = TypedForm(
        f"{name[:1].upper()}{name[1:]} lives after all", "Bring it back", read_back(old), today, note
    )
    form.add("mark", Field("Its number now", old, width=150))
    return form


def _day(today: date) -> Field:
    return Field("Day", long(today), width=150)


def _place_and_kind(form: TypedForm, site_id: int | None, sites: Sequence[SiteName]) -> None:
    choices = [(str(site.site_id), f"{site.name}  {site.code}") for site in sites]
    form.add_side_by_side(
        {
            "site": Field("Stands at", str(site_id or ""), editor=Choice(choices)),
            "kind": Field("It is a", editor=Choice(_NEW_KINDS), width=150),
        }
    )


def _frames(form: TypedForm, whom: str) -> None:
    form.add_side_by_side(
        {
            "brood": Field("Brood", unit=f"frames {whom}", width=118),
            "bees": Field("Bees", unit=f"frames {whom}", width=118),
            "stores": Field("Stores", unit=f"frames {whom}", width=118),
        }
    )


def _feeds() -> Sequence[tuple[str, str]]:
    return [(str(kind), words) for kind, words in FEEDS.items()]


def _pack(pack: PackRow) -> str:
    parts = (
        pack.product,
        f"batch {pack.batch}" if pack.batch else "",
        f"use by {short(pack.expires_on)} {pack.expires_on.year}" if pack.expires_on else "",
    )
    return ", ".join(part for part in parts if part)
