"""Files and functions stay small enough to be read."""

from __future__ import annotations

import statistics

import pytest

from tests.house.sizes import PLACES, measure, percentile

FILE_LINES = 400
FUNCTION_LINES = 60
PUBLIC_METHODS = 15

# Address -> why it is as long as it is. An excuse that is no longer needed fails the test.
EXCUSED_FILES: dict[str, str] = {}
EXCUSED_FUNCTIONS: dict[str, str] = {}
EXCUSED_CLASSES: dict[str, str] = {}


def _over(sizes: dict[str, int], gate: int, excused: dict[str, str]) -> dict[str, int]:
    return {address: size for address, size in sizes.items() if size > gate and address not in excused}


@pytest.mark.parametrize("place", PLACES)
def test_no_file_is_over_400_lines(place):
    assert _over(measure(place).files, FILE_LINES, EXCUSED_FILES) == {}


@pytest.mark.parametrize("place", PLACES)
def test_no_function_is_over_60_lines(place):
    assert _over(measure(place).functions, FUNCTION_LINES, EXCUSED_FUNCTIONS) == {}


def test_no_class_of_the_program_offers_more_than_15_methods():
    assert _over(measure("beeledger").public_methods, PUBLIC_METHODS, EXCUSED_CLASSES) == {}


def test_the_functions_of_the_program_are_short():
    lines = list(measure("beeledger").functions.values())
    assert statistics.median(lines) < 10
    assert percentile(lines, 95) < 40


def test_every_excuse_is_still_needed():
    for place in PLACES:
        sizes = measure(place)
        for counted, gate, excused in (
            (sizes.files, FILE_LINES, EXCUSED_FILES),
            (sizes.functions, FUNCTION_LINES, EXCUSED_FUNCTIONS),
            (sizes.public_methods, PUBLIC_METHODS, EXCUSED_CLASSES),
        ):
            idle = [address for address in excused if address in counted and counted[address] <= gate]
            assert idle == []


def test_what_is_too_long_is_found(tmp_path):
    (tmp_path / "hall").mkdir()
    long_function = "def heft():\n" + "    pass\n" * 60
    methods = "class Hive:\n" + "".join(f"    def look_{n}(self): ...\n" for n in range(16))
    (tmp_path / "hall" / "long.py").write_text(long_function + methods + "\n" * 400)
    sizes = measure("hall", tmp_path)
    assert _over(sizes.files, FILE_LINES, {}) == {"hall/long.py": 478}
    assert _over(sizes.functions, FUNCTION_LINES, {}) == {"hall/long.py heft": 61}
    assert _over(sizes.public_methods, PUBLIC_METHODS, {}) == {"hall/long.py Hive": 16}
