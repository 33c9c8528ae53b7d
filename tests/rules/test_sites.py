"""Grid references and distances, against the Ordnance Survey's own example, osbng and pyproj."""

from __future__ import annotations

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from beeledger.base.findings import Grade
from beeledger.rules import sites
from beeledger.rules.sites import GridReference, LatLon


@pytest.mark.parametrize(
    ("typed", "compact"),
    [
        ("SO415730", "SO4150073000"),
        ("so 71234567", "SO7123045670"),
        ("SO 36125 23875", "SO3612523875"),
        ("SO 340 665", "SO3400066500"),
        ("SO 392/751", "SO3920075100"),
        (" TQ38 ", "TQ3000080000"),
        ("s u 1 2", "SU1000020000"),
        ("HU 396 753", "HU3960075300"),
        ("339200, 275100", "SO3920075100"),
        ("339200 275100", "SO3920075100"),
    ],
)
def test_a_reference_is_read_in_every_common_form(typed, compact):
    assert sites.read_grid(typed).compact() == compact


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("SO41573", "SO41573 has 5 figures; an even number is needed, so that they halve"),
        ("SO 415 7301", "SO 415 7301 has 3 figures east and 4 north; they must be as many"),
        ("SO 41 57 30", "SO 41 57 30 has 3 groups of figures where there should be two"),
        ("SO 415123 730123", "SO 415123 730123 has 12 figures; ten name a metre and are the most"),
        ("S4157", "S4157 has one letter where a grid reference has two"),
        ("SO 41O 730", "SO 41O 730 has a letter among its figures; perhaps SO 410 730 is meant"),
        ("S0 415 730", "S0 415 730 has a figure among its letters; perhaps SO 415 730 is meant"),
        ("SI 415 730", "SI 415 730 begins with SI; the grid has no letter I"),
        ("AA 415 730", "AA 415 730 begins with AA, which lies outside Great Britain"),
        ("by the church", "by the church is not a grid reference"),
        ("", "An empty field is not a grid reference"),
        ("SO", "SO is not a grid reference"),
        ("939200, 275100", "939200, 275100 lies outside the grid of Great Britain"),
    ],
)
def test_what_is_no_reference_is_refused_with_a_sentence(typed, sentence):
    with pytest.raises(ValueError) as caught:
        sites.read_grid(typed)
    assert str(caught.value) == sentence


def test_the_precision_given_is_kept():
    reference = sites.read_grid("so415730")
    assert (reference.figures, reference.square_m) == (6, 100)
    assert reference.as_given() == "SO 415 730"
    assert reference.spaced() == "SO 41500 73000"


def test_a_form_gets_findings_for_unreadable_sea_and_coarse():
    assert sites.check_grid("SO 415 730") is None
    assert sites.check_grid("SO4").grade is Grade.REFUSED
    assert sites.check_grid("MC 415 730").grade is Grade.REFUSED
    assert (sites.check_grid("OG 415 730").code, sites.check_grid("SO 4 7").code) == (
        "site.grid-sea",
        "site.grid-coarse",
    )


def test_osbng_reads_and_writes_the_same_references():
    import osbng

    dice = random.Random(7)
    for _ in range(300):
        east, north = dice.randrange(700_000), dice.randrange(1_300_000)
        mine = GridReference(east, north)
        theirs = osbng.xy_to_bng(east, north, 1)
        assert mine.compact() == theirs.bng_ref_compact
        assert sites.read_grid(theirs.bng_ref_formatted) == mine


def test_the_projection_gives_the_ordnance_surveys_own_example():
    """*A guide to coordinate systems in Great Britain*, annexe C, worked examples."""
    latitude, longitude = 52 + 39 / 60 + 27.2531 / 3600, 1 + 43 / 60 + 4.5177 / 3600
    east, north = sites.project(latitude, longitude)
    assert (round(east, 3), round(north, 3)) == (651_409.903, 313_177.270)
    back = sites.unproject(651_409.903, 313_177.270)
    # Eastings are printed to a millimetre, which is 1e-8 of a degree.
    assert back == pytest.approx((latitude, longitude), abs=1e-8)


def test_pyproj_agrees_on_latitude_and_longitude_to_2_cm():
    from pyproj import Transformer

    # Written out, so that an installed shift grid does not change what is compared.
    grid = (
        "+proj=tmerc +lat_0=49 +lon_0=-2 +k=0.9996012717 +x_0=400000 +y_0=-100000 +ellps=airy "
        "+towgs84=446.448,-125.157,542.06,0.1502,0.247,0.8421,-20.4894 +units=m +type=crs"
    )
    transformer = Transformer.from_crs(grid, "EPSG:4326", always_xy=True)
    dice = random.Random(11)
    for _ in range(300):
        east, north = dice.randrange(100_000, 650_000), dice.randrange(10_000, 1_200_000)
        longitude, latitude = transformer.transform(east, north)
        mine = sites.to_lat_lon(GridReference(east, north))
        # 2e-7 of a degree is 2 cm north to south.
        assert (mine.latitude, mine.longitude) == pytest.approx((latitude, longitude), abs=2e-7)


@given(st.integers(50_000, 650_000), st.integers(10_000, 1_200_000))
def test_a_reference_comes_back_from_latitude_and_longitude(east, north):
    reference = GridReference(east, north)
    assert sites.to_grid(sites.to_lat_lon(reference)) == reference


def test_a_spot_outside_the_grid_has_no_reference():
    with pytest.raises(ValueError, match="lies outside the grid of Great Britain"):
        sites.to_grid(LatLon(48.85, 2.35))


@pytest.mark.parametrize(
    ("first", "second", "metres"),
    [
        # Computed with R = 6,371.0088 km; outside Britain, so on the sphere.
        (LatLon(41.000, -1.000), LatLon(41.027, -1.000), 3_002),
        (LatLon(0, 10), LatLon(0, 11), 111_195),
        (sites.read_grid("SO 400 700"), sites.read_grid("SO 430 740"), 5_000),
    ],
)
def test_distance_is_the_straight_line(first, second, metres):
    assert sites.distance_m(first, second) == metres
    assert sites.distance_m(second, first) == metres


def test_pyproj_agrees_on_distances_to_one_in_a_thousand():
    from pyproj import Geod

    geod, dice = Geod(ellps="WGS84"), random.Random(3)
    for _ in range(100):
        a = LatLon(dice.uniform(51, 54), dice.uniform(-3, 0))
        b = LatLon(a.latitude + dice.uniform(-0.3, 0.3), a.longitude + dice.uniform(-0.3, 0.3))
        true = geod.inv(a.longitude, a.latitude, b.longitude, b.latitude)[2]
        assert sites.distance_m(a, b) == pytest.approx(true, rel=1e-3, abs=1)


def test_sites_within_3_km_come_nearest_first_and_the_edge_counts():
    around = {
        "edge": sites.read_grid("SO 430 700"),
        "far": sites.read_grid("SO 43001 70000"),
        "near": sites.read_grid("SO 401 700"),
    }
    assert sites.within(sites.read_grid("SO 400 700"), 3_000, around) == [("near", 100), ("edge", 3_000)]


def test_london_and_edinburgh_are_in_britain_and_paris_and_dublin_are_not():
    assert sites.is_in_great_britain(LatLon(51.5074, -0.1278))
    assert sites.is_in_great_britain(LatLon(55.9533, -3.1883))
    assert not sites.is_in_great_britain(LatLon(48.8566, 2.3522))
    assert not sites.is_in_great_britain(LatLon(53.35, -6.26))
