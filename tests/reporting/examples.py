"""Records of an invented farm, to print in tests. Names and figures are made up."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from beeledger.queries.records.heading import Farm, Made, Note, PartyLines
from beeledger.queries.records.movement_register import MovementRegister, RegisterLine
from beeledger.queries.records.movement_report import (
    Agreed,
    DayCount,
    MovementReport,
    OwedLine,
    Stay,
    StrengthResult,
)
from beeledger.queries.records.round_sheet import LastFigures, RoundSheet, SheetLine
from beeledger.queries.records.round_summary import RoundFinding, RoundSummary, SummaryLine

ZONE = ZoneInfo("Europe/London")
FARM = Farm(
    "Tarrow Bees",
    ("Tarrow Barn", "Nether Aldley", "Herefordshire"),
    "01632 960188",
)
MADE = Made(datetime(2026, 6, 2, 18, 40, tzinfo=ZONE), "tarrow.db", 4211, "RH")
HOSTILE = "<b>Tŷ Gŵyn</b> & Sons =1+1 " + "x" * 200 + " \x00\x1b[31m \u202eolleh שלום end"


def stays_of(hives: int) -> tuple[Stay, ...]:
    """Stays with every second hive checked, the last four late and three of the checked weak."""
    stays = []
    for index in range(hives):
        late = index >= hives - 4
        weak = index % 8 == 3
        on = date(2026, 5, 7) if late else date(2026, 5, 4)
        short_by = "1.5 frames of bees short" if weak else ""
        if late:
            short_by = "came 3 days late" + ("; 1.5 frames of bees short" if weak else "")
        stays.append(
            Stay(
                hive=str(2301 + 3 * index),
                came_from=("Withy Bank", "Upper Slade", "Mortar Pits")[index % 3],
                on=on,
                off=date(2026, 5, 26),
                days=(date(2026, 5, 26) - on).days,
                went_to="Withy Bank",
                bees_tenths=(65 if weak else 80 + 5 * (index % 5)) if index % 2 == 1 else None,
                brood_tenths=50 + 5 * (index % 3) if index % 2 == 1 else None,
                checked=date(2026, 5, 12) if index % 2 == 1 else None,
                shortfall=short_by,
            )
        )
    return tuple(stays)


def owed_for(hives: int) -> tuple[OwedLine, ...]:
    """What follows from those stays."""
    return (
        OwedLine("Hives at full strength", 6200 * (hives - 3), hives - 3, "hives", 6200, "as agreed", "S"),
        OwedLine("Hives below strength", 3100 * 3, 3, "hives", 3100, "under 8 frames of bees on 12 May", "S"),
        OwedLine("Late delivery", -1800, 12, "hive-days", -150, "4 hives came on 7 May, agreed 4 May", "S"),
    )


def report(hives: int = 24) -> MovementReport:
    """A contract with late and weak hives, and what follows from them."""
    return MovementReport(
        contract="Marl Orchard 2026",
        grower=PartyLines("Marl Orchard Growers", ("Marl House", "Stoke Aldley"), "07700 900461"),
        crop="cider apple",
        site="Marl Orchard",
        grid="SO 61200 47500",
        first=date(2026, 5, 1),
        last=date(2026, 5, 31),
        set_down=("gate field", "old block, east headland"),
        agreed=Agreed(
            hives=hives,
            on=date(2026, 5, 4),
            off=date(2026, 5, 25),
            bees_tenths=80,
            brood_tenths=50,
            frame="British Standard deep",
            price_pence=6200,
            area_m2=95_000,
            terms=("half price below strength", "£1.50 a hive and day when late"),
        ),
        stays=stays_of(hives),
        owed=owed_for(hives),
        strength=(
            StrengthResult(
                date(2026, 5, 12), "JP", 12, 24, 86, 65, 54, 3, "every second hive, drawn by number"
            ),
        ),
        counts=(
            DayCount(date(2026, 5, 4), hives - 4),
            DayCount(date(2026, 5, 7), hives),
            DayCount(date(2026, 5, 26), 0),
        ),
        health=(
            Note(
                "Last looked at: all 24 hives between 28 April and 3 May, no signs of disease recorded",
                "3 May 2026",
            ),
            Note("No medicine in the hives while they stood on the crop", "4 to 26 May 2026"),
            Note("No restriction in force at any site the hives came from", "31 May 2026"),
        ),
        notes=(
            Note(
                "Grower gave notice of a fungicide for the night of 14 May; hives were left open",
                "13 May 2026",
            ),
        ),
    )


def register(lines: int = 60) -> MovementRegister:
    """A log of moves, six hives to a move."""
    places = ("Withy Bank", "Marl Orchard, gate field", "Upper Slade", "Cold Elm", "Mortar Pits")
    rows = []
    for index in range(lines):
        move = index // 6
        day = date(2026, 4, 2) + timedelta(days=move % 150)
        left = datetime(day.year, day.month, day.day, 20, 10 + move % 40, tzinfo=ZONE)
        over = move % 9 == 4
        rows.append(
            RegisterLine(
                on=day,
                hive=str(1100 + index % 997),
                came_from=places[move % 5],
                went_to=places[(move + 2) % 5],
                left=left if move % 4 else None,
                arrived=left + timedelta(hours=5 if over else 1) if move % 4 else None,
                vehicle=("van 1", "van 2", "trailer")[move % 3],
                driver=("R. Hale", "T. Moss")[move % 2],
                reason=("to the crop", "home from the crop", "better forage", "united")[move % 4],
                contract="Marl Orchard 2026" if move % 4 < 2 else "",
                move=move + 1,
            )
        )
    return MovementRegister("all sites", date(2026, 4, 1), date(2026, 9, 30), tuple(rows))


def sheet(hives: int = 31) -> RoundSheet:
    """A site's sheet with last figures."""
    colours = ("blue", "green", "white", "", "yellow", "red")
    words = ("blue '25", "green '24", "white '26", "not marked", "yellow '22", "red '23")
    due = ("", "swarm check", "", "strips out, swarm check", "", "light: 4 kg on 2 May", "")
    lines = []
    for index in range(hives):
        last = LastFigures(
            queen="q" if index % 2 else "", eggs="e", brood=f"{4 + index % 6}", bees=f"{7 + index % 5}",
            stores=f"{4 + index * 7 % 11}", temper=f"{1 + index % 3}", cells="2 open" if index % 11 == 5 else "",
            supers=f"{index % 3}", feed="2.0" if index % 5 == 2 else "", strips="in" if index % 7 == 3 else "",
            mites=f"{index % 6}" if index % 2 else "", again="7",
        )  # fmt: skip
        lines.append(
            SheetLine(
                str(2301 + 3 * index),
                str(index + 1),
                colours[index % 6],
                words[index % 6],
                last,
                due[index % 7],
            )
        )
    return RoundSheet(
        site="Withy Bank",
        lines=tuple(lines),
        code="WB",
        grid="SO 58310 44120",
        day=date(2026, 5, 14),
        last_visit=date(2026, 5, 7),
        crew="RH, TM",
        way_in="gate code at the farmhouse; keep to the left of the brook",
        due="9 swarm check · 4 strips out · 4 light",
        minutes=125,
        cautions=(
            Note("Full supers weigh 15 kg and more: two people lift. Carry the allergy kit.", state="advice"),
        ),
        marks=(("brood", "b"), ("bees", "f"), ("stores", "k"), ("temper", "t")),
    )


def summary(hives: int = 31) -> RoundSummary:
    """A posted round with one dead hive and findings of each grade."""
    lines = []
    for index in range(hives):
        if index == 12:
            lines.append(
                SummaryLine(
                    str(2301 + 3 * index), "dead, queen failure", note="boxes closed and stacked by the gate"
                )
            )
            continue
        lines.append(
            SummaryLine(
                str(2301 + 3 * index), queen="seen, blue" if index % 2 else "", eggs="eggs", brood_tenths=40 + 5 * (index % 7),
                bees_tenths=70 + 10 * (index % 5), stores=f"{4 + index * 7 % 11} kg", temper=1 + index % 3,
                cells="2 open, cut" if index % 11 == 5 else "", supers=(1, 0, -1, None)[index % 4],
                feed="2.0 l 1:1" if index % 5 == 2 else "", strips="out" if index % 7 == 3 else "",
                mites="4 in 300" if index % 9 == 4 else "", again=date(2026, 5, 21), note="moved to double brood" if index == 3 else "",
            )
        )  # fmt: skip
    at = datetime(2026, 5, 14, 9, 10, tzinfo=ZONE)
    return RoundSummary(
        site="Withy Bank", day=date(2026, 5, 14), lines=tuple(lines), begun=at, ended=at + timedelta(minutes=150), crew="RH, TM",
        weather="18 °C, light wind, sun", posted_by="office", act=4198, whole_site=("all feeders taken off",),
        sums=(
            ("looked at", "30", "of 31"), ("queens seen", "15", ""), ("brood", "163.5", "frames"), ("supers", "+8 −8", ""),
            ("feed", "12.0", "litres"), ("strips out", "4", ""),
        ),
        findings=(
            RoundFinding("2316", "doubtful", "2 open cells in a colony that swarmed last year", "left as typed"),
            RoundFinding("2331", "against", "queen seen in a hive on record as queenless", "record corrected: queenright"),
        ),
        waiting=(Note("2352: is this hive 2325? The marking colour does not fit", state="odd"),),
    )  # fmt: skip
