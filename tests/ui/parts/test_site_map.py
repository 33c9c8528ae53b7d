"""The map: true scale, names that avoid each other, shapes sized by colonies, moved by wheel, hand and keys."""

from __future__ import annotations

from math import hypot

import pytest
from PySide6.QtCore import QPoint, QPointF, QRectF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest

from beeledger.rules.sites import LatLon, distance_m
from beeledger.ui.parts.map_ground import (
    Ground,
    bar_m,
    grid_figure,
    grid_lines,
    ground_for,
    on_a_plane,
    square_letters,
)
from beeledger.ui.parts.map_labels import Wanted, place_labels
from beeledger.ui.parts.map_painting import radius
from beeledger.ui.parts.site_map import MapSite, SiteMap
from beeledger.ui.widgets.marks import Mark

GROUND = Ground(340_000, 260_000, 20.0, 500, 400)
SITES = [
    MapSite(1, "Home", 340_000, 260_000, colonies=10, home=True),
    MapSite(2, "Low Dyke", 345_000, 262_000, colonies=30, mark=Mark.LATE),
    MapSite(3, "Orchard", 336_000, 257_000, colonies=8, mark=Mark.SOON),
]


@pytest.fixture
def site_map(qtbot) -> SiteMap:
    made = SiteMap()
    qtbot.addWidget(made)
    made.resize(500, 400)
    made.set_sites(SITES)
    made.show()
    return made


def test_a_metre_and_its_pixel_lead_to_each_other():
    assert GROUND.metres(*GROUND.pixel(341_234, 259_876)) == pytest.approx((341_234, 259_876))


def test_east_is_right_and_north_is_up_and_both_have_one_scale():
    x0, y0 = GROUND.pixel(340_000, 260_000)
    assert GROUND.pixel(341_000, 260_000) == (x0 + 50, y0)
    assert GROUND.pixel(340_000, 261_000) == (x0, y0 - 50)


def test_coming_nearer_keeps_the_spot_under_the_pointer():
    before = GROUND.metres(123, 77)
    nearer = GROUND.zoomed(2, 123, 77)
    assert nearer.metres_a_pixel == 10
    assert nearer.metres(123, 77) == pytest.approx(before)


def test_nobody_zooms_into_a_blank_or_out_of_the_country():
    near, far = GROUND, GROUND
    for _ in range(60):
        near, far = near.zoomed(1.5, 0, 0), far.zoomed(1 / 1.5, 0, 0)
    assert near.metres_a_pixel == 400 / 400
    assert far.metres_a_pixel == 900_000 / 400


def test_all_sites_are_seen_at_first():
    ground = ground_for([(336_000, 257_000), (345_000, 262_000)], 500, 400, 40)
    for spot in ((336_000, 257_000), (345_000, 262_000)):
        x, y = ground.pixel(*spot)
        assert 39 <= x <= 461
        assert 39 <= y <= 361


def test_one_site_alone_is_shown_with_the_land_around_it():
    ground = ground_for([(336_000, 257_000)], 500, 400, 40)
    assert ground.metres_a_pixel == 10


def test_the_grid_has_lines_every_kilometre_and_firm_ones_every_five():
    lines = grid_lines(GROUND, 9)
    assert lines.step_m == 5_000
    assert lines.fine[0] == (
        335_000,
        336_000,
        337_000,
        338_000,
        339_000,
        340_000,
        341_000,
        342_000,
        343_000,
        344_000,
        345_000,
    )
    assert lines.firm[0] == (335_000, 340_000, 345_000)


def test_figures_and_letters_are_those_of_the_national_grid():
    # SO is the square whose south-west corner is 300 km east and 200 km north of the false origin:
    # Ordnance Survey, "A guide to coordinate systems in Great Britain", figure of the 100 km squares.
    assert square_letters(GROUND) == "SO"
    assert (grid_figure(345_000), grid_figure(260_000), grid_figure(300_000)) == ("45", "60", "00")
    assert square_letters(Ground(-5, 260_000, 20, 500, 400)) == ""


def test_the_scale_bar_is_a_round_length_that_fits():
    assert bar_m(GROUND, 96) == 1_000
    assert bar_m(GROUND, 101) == 2_000


def test_farms_outside_the_grid_lie_on_a_plane_with_true_distances():
    # Against the great circle of rules.sites, within 0.5 per cent over some 20 km.
    places = [(43.10, 5.90), (43.20, 6.10)]
    (x1, y1), (x2, y2) = on_a_plane(places)
    true = distance_m(LatLon(*places[0]), LatLon(*places[1]))
    assert hypot(x2 - x1, y2 - y1) == pytest.approx(true, rel=0.005)


def test_names_avoid_each_other_and_the_shapes():
    wanted = [Wanted(at, 100 + 6 * at, 100, 5, 60, 14) for at in range(4)]
    placed = place_labels(wanted, [], QRectF(0, 0, 400, 300))
    rects = list(placed.values())
    assert len(rects) >= 2
    for at, rect in enumerate(rects):
        assert not any(rect.intersects(other) for other in rects[at + 1 :])
        for one in wanted:
            if placed.get(one.key) != rect:
                assert not rect.intersects(QRectF(one.x - 5, one.y - 5, 10, 10))


def test_the_first_name_gets_the_best_place_and_one_without_room_none():
    first, second = Wanted("late", 50, 50, 5, 60, 14), Wanted("soon", 52, 50, 5, 60, 14)
    placed = place_labels([first, second], [], QRectF(40, 40, 90, 20))
    assert list(placed) == ["late"]


def test_shapes_grow_with_the_square_root_of_the_colonies():
    least = radius(0)
    assert radius(100) - least == pytest.approx(2 * (radius(25) - least))


def test_a_click_picks_the_site_under_it(site_map: SiteMap, qtbot):
    x, y = site_map.where(2)
    with qtbot.waitSignal(site_map.picked) as heard:
        QTest.mouseClick(site_map, Qt.MouseButton.LeftButton, pos=QPoint(round(x), round(y)))
    assert heard.args == [2]


def test_a_click_on_bare_land_picks_nothing(site_map: SiteMap, qtbot):
    with qtbot.assertNotEmitted(site_map.picked):
        QTest.mouseClick(site_map, Qt.MouseButton.LeftButton, pos=QPoint(2, 2))


def test_dragging_moves_the_land_and_picks_nothing(site_map: SiteMap, qtbot):
    x, y = site_map.where(2)
    with qtbot.assertNotEmitted(site_map.picked):
        QTest.mousePress(site_map, Qt.MouseButton.LeftButton, pos=QPoint(round(x), round(y)))
        QTest.mouseMove(site_map, QPoint(round(x) + 40, round(y) - 30))
        QTest.mouseRelease(site_map, Qt.MouseButton.LeftButton, pos=QPoint(round(x) + 40, round(y) - 30))
    assert site_map.where(2) == pytest.approx((x + 40, y - 30), abs=1)


def test_the_wheel_comes_nearer_around_the_pointer(site_map: SiteMap):
    x, y = site_map.where(2)
    apart = site_map.where(3)[0] - x
    spot = QPointF(x, y)
    none = Qt.MouseButton.NoButton
    event = QWheelEvent(spot, spot, QPoint(), QPoint(0, 120), none, Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False)  # fmt: skip
    site_map.wheelEvent(event)
    assert site_map.where(2) == pytest.approx((x, y), abs=0.01)
    assert site_map.where(3)[0] - x == pytest.approx(apart * 1.2)


def test_keys_move_it_and_nought_shows_everything_again(site_map: SiteMap):
    at_first = site_map.where(2)
    QTest.keyClick(site_map, Qt.Key.Key_Plus)
    QTest.keyClick(site_map, Qt.Key.Key_Left)
    assert site_map.where(2) != at_first
    QTest.keyClick(site_map, Qt.Key.Key_0)
    assert site_map.where(2) == pytest.approx(at_first)


def test_a_site_without_a_place_is_not_on_the_map(site_map: SiteMap):
    site_map.set_sites([*SITES, MapSite(4, "Nowhere", None, None)])
    assert site_map.where(4) is None


def test_new_rows_leave_the_land_where_the_person_has_moved_it(site_map: SiteMap):
    site_map.zoom(2)
    before = site_map.where(2)
    site_map.set_sites(SITES[:2])
    assert site_map.where(2) == pytest.approx(before)


def test_it_says_in_words_what_it_shows(site_map: SiteMap):
    assert site_map.accessibleDescription() == "3 sites: Low Dyke late, Orchard soon"


def test_it_draws_chosen_sites_the_circle_and_the_way(site_map: SiteMap):
    plain = site_map.grab().toImage()
    site_map.set_chosen([2, 3], near_m=3_000, route=True)
    assert site_map.grab().toImage() != plain
