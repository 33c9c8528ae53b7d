"""The map from screen to file is true: made from the places themselves, and every name in it stands."""

from __future__ import annotations

from pathlib import Path

import place_map
import pytest

PAGE = place_map.ROOT / "DEVELOPERS.md"


def test_the_map_is_up_to_date():
    page = PAGE.read_text(encoding="utf-8")
    made = place_map.table(place_map.places())
    assert page == place_map.with_map(page, made), "run: python packaging/map"


def test_every_name_a_place_gives_stands():
    dead = {place.title: place_map.dead_names(place) for place in place_map.places()}
    assert {title: names for title, names in dead.items() if names} == {}


def test_every_place_says_what_it_reads_or_acts_on():
    silent = [place.title for place in place_map.places() if not any(place.names.values())]
    assert silent == []


def test_every_place_stands_in_the_list_on_the_left_under_the_title_it_gives_itself():
    from beeledger.ui.frame.registry import PLACES

    listed = {(entry.key, entry.title) for entry in PLACES}
    assert {(place.folder, place.title) for place in place_map.places()} - listed == set()


def _checkout(root: Path, docstring: str) -> Path:
    place = root / "beeledger" / "ui" / "places" / "stands"
    place.mkdir(parents=True)
    (place / "place.py").write_text(f'"""{docstring}\n"""\n')
    (root / "beeledger" / "model").mkdir()
    (root / "beeledger" / "model" / "sites.py").touch()
    (root / "tests" / "ui" / "places").mkdir(parents=True)
    (root / "tests" / "ui" / "places" / "test_stands.py").touch()
    return root


def test_a_place_becomes_a_row(tmp_path):
    text = "Stands: where each hive is put.\n\nReads: queries.sites.one, queries.due.all_due\nActs: operations.sites.add\nPrints: nothing"
    (place,) = place_map.places(_checkout(tmp_path, text))
    assert place_map.table([place], tmp_path).splitlines()[2] == (
        "| Stands | `ui/places/stands/` | `queries.sites.one`<br>`queries.due.all_due` | `operations.sites.add` |  "
        "| `model/sites.py` |  | `tests/ui/places/test_stands.py` |"
    )


def test_a_name_behind_which_nothing_stands_is_found(tmp_path):
    text = "Stands: where.\n\nComputes: rules.no_such_room.count, rules"
    (place,) = place_map.places(_checkout(tmp_path, text))
    assert place_map.dead_names(place) == ["rules.no_such_room.count"]


@pytest.mark.parametrize(
    ("docstring", "fault"),
    [
        ("Where each hive is put.", "no title"),
        ("Stands: where.\n\nReads: model.sites.Site", "not of queries"),
    ],
)
def test_a_place_that_says_it_wrongly_is_named(tmp_path, docstring, fault):
    with pytest.raises(place_map.MapFault, match=fault):
        place_map.places(_checkout(tmp_path, docstring))


def test_a_page_without_marks_is_not_touched():
    with pytest.raises(place_map.MapFault, match="lost the marks"):
        place_map.with_map("# For developers\n", "| map |")
