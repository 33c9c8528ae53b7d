"""Names and claims: SI 2015/1348 regs 6 to 17 and Regulation (EU) 1169/2011 art. 7."""

from __future__ import annotations

from dataclasses import replace

import pytest

from beeledger.rules.label_claims import check_claims, check_flower, check_name, check_place
from beeledger.rules.label_particulars import State
from tests.rules.test_label_law import SOUND


# SI 2015/1348: reserved names; only filtered, comb, chunk and baker's honey may not be plain "honey".
@pytest.mark.parametrize(
    ("product", "name", "stands"),
    [
        ("honey", "Honey", State.MET),
        ("honey", "Blossom honey", State.MET),
        ("honey", "Syrup", State.NOT_MET),
        ("honey", "Comb honey", State.NOT_MET),
        ("honey", "Honeydew", State.NOT_MET),
        ("blossom", "Honey", State.MET),
        ("blossom", "Nectar honey", State.MET),
        ("blossom", "Honeydew honey", State.NOT_MET),
        ("comb", "Honey", State.NOT_MET),
        ("comb", "Comb honey", State.MET),
        ("chunk", "Cut comb in honey", State.MET),
        ("filtered", "Honey", State.NOT_MET),
        ("filtered", "Filtered honey", State.MET),
        ("bakers", "Baker’s honey", State.NOT_MET),
        ("honey", "Wild hedgerow honey", State.ADVICE),
    ],
)
def test_a_product_bears_a_name_of_the_law(product, name, stands):
    assert check_name(replace(SOUND, product=product, name=name)).state is stands


def test_bakers_honey_says_what_it_is_for():
    label = replace(SOUND, product="bakers", name="Baker’s honey", other_words=("Intended for cooking only",))
    assert check_name(label).state is State.MET


def test_a_name_may_say_the_flower_or_place_that_is_claimed():
    assert check_name(replace(SOUND, name="Heather honey", floral="heather")).state is State.MET
    assert check_name(replace(SOUND, name="Oldmere honey", region="Oldmere")).state is State.MET


@pytest.mark.parametrize(
    ("share", "stands"), [(7500, State.MET), (7499, State.ADVICE), (None, State.ADVICE), (10_000, State.MET)]
)
def test_a_flower_is_named_when_the_honey_is_mainly_from_it(share, stands):
    # Three quarters is the trade's reading of "wholly or mainly", not the law's.
    label = replace(SOUND, floral="heather", floral_share_hundredths=share)
    assert check_flower(label).state is stands


@pytest.mark.parametrize(
    ("share", "stands"), [(10_000, State.MET), (9999, State.NOT_MET), (None, State.ADVICE)]
)
def test_a_place_is_named_only_when_all_comes_from_there(share, stands):
    label = replace(SOUND, region="Oldmere", region_share_hundredths=share)
    assert check_place(label).state is stands


@pytest.mark.parametrize("product", ["filtered", "bakers"])
def test_filtered_and_bakers_honey_name_no_flower_and_no_place(product):
    label = replace(SOUND, product=product, floral="heather", region="Oldmere")
    assert check_flower(label).state is State.NOT_MET
    assert check_place(label).state is State.NOT_MET


def test_what_is_not_claimed_is_not_judged():
    assert check_flower(SOUND) is None
    assert check_place(SOUND) is None


@pytest.mark.parametrize(
    ("words", "stands"),
    [("Raw", State.ADVICE), ("PURE English", State.ADVICE), ("Organic", State.ADVICE), ("Local", State.ADVICE),
     ("Soothes a sore throat", State.NOT_MET), ("Antibacterial", State.NOT_MET), ("Boosts immunity", State.NOT_MET)],
)  # fmt: skip
def test_doubtful_words_are_named(words, stands):
    assert [particular.state for particular in check_claims(replace(SOUND, other_words=(words,)))] == [stands]


@pytest.mark.parametrize(
    "words", ["Strawberry honey", "Naturally set", "Locality", "Secure the lid", "Purely good"]
)
def test_a_word_inside_another_is_not_taken_for_a_claim(words):
    assert [found.state for found in check_claims(replace(SOUND, other_words=(words,)))] == [State.MET]


def test_the_name_of_the_business_is_left_alone():
    (found,) = check_claims(replace(SOUND, business="Pure Local Remedy Farm"))
    assert found.state is State.MET


def test_every_claim_is_told_on_its_own():
    found = check_claims(replace(SOUND, name="Raw honey", other_words=("a natural remedy",)))
    assert [particular.title for particular in found] == ["“raw”", "“natural”", "“remedy”"]


def test_a_share_is_told_beside_what_is_asked():
    label = replace(SOUND, floral="heather", floral_share_hundredths=6250)
    found = check_flower(label)
    assert (found.measured, found.least, found.unit) == (62.5, 75.0, "%")
    assert found.words == "heather 62.5 %; the trade reads “mainly” as 75 %"
