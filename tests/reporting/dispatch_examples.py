"""A delivery note and a recall of an invented farm, to print in tests. Names and figures are made up."""

from __future__ import annotations

from datetime import date

from beeledger.queries.records.batch_record import Source
from beeledger.queries.records.delivery_note import DeliveryNote
from beeledger.queries.records.dispatch_desk import ContactWords, SentLine
from beeledger.queries.records.recall import Buyer, Delivery, HiveBehind, Recall, RelatedMark, Whereabouts

STORES = ContactWords("R. Hollin", "2 Fore Street, Aldley, HR9 0ZZ", "01632 960001", "shop@aldley.example")


def note() -> DeliveryNote:
    """Two lots of jars and a drum for one shop."""
    lines = (
        SentLine(11, 5, 3, "TB26-0031-18", "Summer blossom", 340, date(2028, 5, 31), 48, 6, 16_392, 2_049),
        SentLine(12, 6, 4, "TB26-0032-15", "Ling heather", 227, date(2028, 9, 30), 24, 0, 5_472, 0),
        SentLine(13, 7, None, "drum 114", "Honey in bulk", None, None, None, 0, 27_500, 0),
    )
    return DeliveryNote(
        1182,
        date(2026, 5, 20),
        "sold",
        "Aldley Stores",
        STORES,
        "order 77",
        "Boxes come back next week",
        lines,
    )


def recall(missing: int = 0) -> Recall:
    """A hundred jars: two shops, the public, a gift without an address; some back, some lost."""
    stores = Buyer(
        "Aldley Stores", STORES,
        (
            Delivery(date(2026, 5, 20), "Aldley Stores", "sold", "order 77", 24, 6, 8_196, 2_049),
            Delivery(date(2026, 5, 28), "Aldley Stores", "sold", "", 10, 0, 3_415, 0, counted=False),
        ),
    )  # fmt: skip
    gift = Buyer(
        "St Odo's fair",
        ContactWords(),
        (Delivery(date(2026, 5, 30), "St Odo's fair", "given", "", 4, 0, 1_366, 0),),
    )
    public = Buyer(
        "The public, not by name", ContactWords(),
        (Delivery(date(2026, 5, 23), "", "sold to the public", "stall", 12, 0, 4_098, 0),), named=False,
    )  # fmt: skip
    return Recall(
        3, 5, "TB26-0031-18", "Summer blossom", 340, 100 + missing, 34_150, date(2026, 5, 13), date(2028, 5, 31),
        "a complaint of 1 June",
        (
            Whereabouts("with buyers", 44, 15_026, "3 receivers"),
            Whereabouts("here, held", 54, 18_441, "a complaint of 1 June"),
            Whereabouts("lost or opened", 2, 683, "a dropped carton"),
        ),
        (stores, gift, public),
        (
            Source("Withy Bank", 25_613, 7_500, "drum 114", date(2025, 7, 22), "United Kingdom", 1740),
            Source("Cold Elm", 8_537, 2_500, "drum 117", date(2025, 8, 3), "United Kingdom", 1810),
        ),
        (
            HiveBehind("Withy Bank", date(2025, 7, 22), "214", 2, "", ("Strips A, batch K12, 1 Sep to 20 Oct 2024",), ("fondant, 3 Feb 2025",)),
            HiveBehind("Cold Elm", date(2025, 8, 3), "", 3, "feed was long gone", (), ()),
        ),
        (RelatedMark(4, "TB26-0032-15", "Small jars", date(2026, 5, 14), 60),),
    )  # fmt: skip
