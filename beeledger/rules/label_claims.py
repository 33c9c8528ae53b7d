"""What a label claims beyond honey: flowers, places, and words that mislead or promise health."""

from __future__ import annotations

import re

from beeledger.base.text import folded
from beeledger.base.units import per_cent
from beeledger.rules.label_figures import label_figures
from beeledger.rules.label_particulars import Particular, advised, met, not_met
from beeledger.rules.labels import Label, products

WHOLE_HUNDREDTHS = 10_000


def check_name(label: Label) -> Particular:
    """Whether the name of the food is one the law knows for this product.

    Plain "honey" does for all but filtered, comb, chunk and baker's honey. SI 2015/1348.
    """
    title, product, name = "Name of the food", products()[label.product], _plain(label.name)
    if not name:
        return not_met("name", title, "no name of the food", "food art. 9(1)(a)")
    own = any(_says(name, word) for word in product.names)
    if not own and not (product.plain and _says(name, "honey")):
        wanted = " or ".join(f"“{word}”" for word in product.names)
        return not_met("name", title, f"the name has to say {wanted}", "honey regs 6 to 15")
    if product.must_say and product.must_say not in _plain(" ".join((label.name, *label.other_words))):
        return not_met(
            "name", title, f"“{product.must_say}” has to stand near the name", "honey regs 6 to 15"
        )
    other = _foreign_name(name, label.product)
    if other:
        return not_met("name", title, f"“{other}” is reserved for another product", "honey regs 6 to 15")
    reserved = {word for each in products().values() for word in each.names}
    if name not in reserved and not (label.floral or label.region):
        words = f"“{label.name}” says more than honey: name the flower or the place it stands for"
        return advised("name", title, words, "honey reg. 17")
    return met("name", title, f"“{label.name}”", "food art. 9(1)(a)")


def check_flower(label: Label) -> Particular | None:
    """A claimed flower: not on filtered or baker's honey, and wholly or mainly from it (reg. 17)."""
    if not label.floral:
        return None
    title = "Flower named"
    if not products()[label.product].claims:
        return not_met("flower", title, "this product may not name a flower", "honey reg. 17(3)")
    mainly = label_figures().mainly_hundredths
    share = label.floral_share_hundredths
    if share is None:
        words = f"be able to show that it is wholly or mainly {label.floral}"
        return advised("flower", title, words, "honey reg. 17(2)")
    if share < mainly:
        words = f"{label.floral} {per_cent(share)} %; the trade reads “mainly” as {per_cent(mainly, 0)} %"
        return _measured(advised("flower", title, words, "honey reg. 17(2)"), share, mainly)
    words = f"{label.floral} {per_cent(share)} %"
    return _measured(met("flower", title, words, "honey reg. 17(2)"), share, mainly)


def check_place(label: Label) -> Particular | None:
    """A claimed region or place: not on filtered or baker's honey, and all from there (reg. 17(4))."""
    if not label.region:
        return None
    title = "Place named"
    if not products()[label.product].claims:
        return not_met("place", title, "this product may not name a place", "honey reg. 17(4)")
    share = label.region_share_hundredths
    if share is None:
        words = f"be able to show that all of it comes from {label.region}"
        return advised("place", title, words, "honey reg. 17(4)")
    words = f"{label.region} {per_cent(share)} %"
    if share < WHOLE_HUNDREDTHS:
        found = not_met("place", title, f"{words}: it must all come from there", "honey reg. 17(4)")
    else:
        found = met("place", title, words, "honey reg. 17(4)")
    return _measured(found, share, WHOLE_HUNDREDTHS)


def check_claims(label: Label) -> list[Particular]:
    """Each doubtful word on the label: promises of health are a breach, the rest is advised against.

    The name of the business is not looked at. Regulation (EU) 1169/2011 art. 7.
    """
    text = _plain(" ".join((label.name, label.floral, label.region, *label.other_words)))
    found = []
    for claim in label_figures().doubtful:
        for word in claim.words:
            if _says(text, word):
                make = not_met if claim.breach else advised
                found.append(make("claim", f"“{word}”", claim.why, "claims"))
    return found or [met("claim", "Words that mislead", "none found", "claims")]


def _measured(found: Particular, share: int, least: int) -> Particular:
    return Particular(
        found.key, found.title, found.state, found.words, found.source, share / 100, least / 100, "%"
    )


def _foreign_name(name: str, key: str) -> str:
    """A reserved name of another product that stands in this name.

    What is entered as plain honey may bear any name of honey that could be called plain honey too.
    """
    own = products()[key].names
    for product in products().values():
        if key == "honey" and product.plain:
            continue
        for word in product.names:
            if word != "honey" and word not in own and _says(name, word):
                return word
    return ""


def _plain(text: str) -> str:
    return folded(text).replace("\N{RIGHT SINGLE QUOTATION MARK}", "'")


def _says(text: str, word: str) -> bool:
    return re.search(rf"(?<!\w){re.escape(word)}(?!\w)", text) is not None
