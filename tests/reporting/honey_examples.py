"""Labels and a batch of an invented farm, to print in tests. Names and figures are made up."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from beeledger.queries.records.batch_record import (
    BalancePart,
    BatchReading,
    BatchRecord,
    JarCount,
    ParticularLine,
    Source,
    WeighingCheck,
)
from beeledger.queries.records.heading import Note
from beeledger.queries.records.label_sheet import LabelRun
from beeledger.rules.label_codes import element_string
from beeledger.rules.label_sheets import load_sheets
from beeledger.rules.labels import DateForm, Label, Origin

LABEL = Label(
    name="Summer blossom honey",
    net_g=340,
    origins=(Origin("the United Kingdom", 10_000),),
    origin_words="Honey from the United Kingdom",
    lot_mark="L T26-031",
    packed_on=date(2026, 5, 13),
    best_before=date(2028, 5, 31),
    date_form=DateForm.MONTH,
    business="Tarrow Bees",
    address="Tarrow Barn, Nether Aldley, HR9 0ZZ",
    product="blossom",
    infant_caution="Not for infants under 12 months.",
    gtin="5012345678900",
)


def run(layout: str = "jar-90x50", count: int = 10, first: int = 0, **label: object) -> LabelRun:
    """A print run on one of the sheets that ship with the program."""
    changed = replace(LABEL, **label)
    code = element_string(
        changed.lot_mark.removeprefix("L").strip(), changed.best_before, changed.date_form, changed.gtin
    )
    return LabelRun(changed, load_sheets()[layout], count, 120.0, code, first)


def batch(difference: int = 0) -> BatchRecord:
    """A jarring of four sources with one reading outside, one jar short and one particular to mend."""
    weights = (*(3400 + (index * 37 % 61) - 12 for index in range(49)), 3291)
    return BatchRecord(
        lot="L T26-031",
        product="Summer blossom honey",
        jarred=date(2026, 5, 13),
        nominal_g=340,
        jars=812,
        sources=(
            Source("Withy Bank", 126_000, 4510, "drum 114", date(2025, 7, 22), "United Kingdom", 1740),
            Source("Upper Slade", 58_600, 2097, "drum 114", date(2025, 7, 22), "United Kingdom", 1740),
            Source("Mortar Pits", 52_300, 1872, "drum 117", date(2025, 8, 3), "United Kingdom", 1810),
            Source("Cold Elm", 42_500, 1521, "drum 117", date(2025, 8, 3), "United Kingdom", 1810),
        ),
        in_g=279_400 + difference,
        parts=(
            BalancePart("jars", 277_460, "812 × 341.7 g"),
            BalancePart("spill, foam", 640),
            BalancePart("sample kept", 683, "2 jars"),
            BalancePart("left in tank", 617),
        ),
        best_before="end May 2028",
        line="1",
        by="RH",
        readings=(
            BatchReading("Moisture", "17.6 %", "at most 20.0 %", met=True, on=date(2026, 5, 12), source="refractometer, at 20.4 °C, corrected"),
            BatchReading("HMF", "43 mg/kg", "at most 40 mg/kg", met=False, on=date(2026, 4, 2), source="laboratory, sheet 4411"),
            BatchReading("Colour", "31 mm Pfund", on=date(2026, 5, 12), source="own comparator"),
            BatchReading("Conductivity", "0.42 mS/cm", "at most 0.80 mS/cm", met=True, source="from drum 114 only"),
        ),
        weighing=WeighingCheck(
            340, weights, 3298, 3196, "tare 190.4 g",
            (
                Note("The mean, 341.4 g, is at least the nominal 340 g", state="met"),
                Note("1 jar of 50 under 329.8 g (T1); at most 2.5 % may be", state="met"),
                Note("No jar under 319.6 g (T2)", state="met"),
            ),
        ),
        particulars=(
            ParticularLine("Name of the food", "Summer blossom honey", met=True, source="SI 2015/1348 regs 6 to 15"),
            ParticularLine("Country of origin", "Honey from the United Kingdom", met=True, source="SI 2015/1348 reg. 17(1)"),
            ParticularLine("Net quantity", "340 g, figures 4.3 mm, at least 4 mm", met=True, source="SI 1987/1538"),
            ParticularLine("Name and address", "a postal address is missing", met=False, source="Regulation (EU) 1169/2011 art. 9(1)(h)"),
            ParticularLine("Caution for infants", "Not for infants under 12 months.", met=None, source="advised, not compulsory"),
        ),
        counts=(JarCount("Jars of 340 g", 815, 812, 3, 0), JarCount("Labels printed", 830, 812, 6, 12)),
        dispatched=(Note("240 jars to Aldley Stores, note 1182", "20 May 2026"), Note("12 jars, rent in jars, Cold Elm", "2 June 2026")),
    )  # fmt: skip
