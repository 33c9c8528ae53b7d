"""The tables of Medicines: packs, the register of what was given, mites by site."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from beeledger.base.dates import long, short
from beeledger.base.findings import Finding
from beeledger.base.text import counted
from beeledger.base.units import per_cent, signed_text
from beeledger.queries.records.medicines import GivenLine, MiteView, PackRow, SiteMites, missing_words
from beeledger.rules.medicines import course
from beeledger.ui.widgets.cells import BLANK, Align, Cell, Column, Interval, Row
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.marks import Mark

_DAY = "30 Sep 2025"
_RIGHT = Align.RIGHT
PACKS = (
    Column("product", "Product", slack=True, whole=True, sample="Fen strips"),
    Column("batch", "Batch", sample="25B 1234", spare=1),
    Column("acquired", "Acquired", sample=_DAY, spare=4),
    Column("expires", "Expires", sample=_DAY, marks=True, group_end=True),
    Column("bought", "Bought", sample="9,999", align=_RIGHT, spare=3),
    Column("used", "Given", sample="9,999", align=_RIGHT, spare=2),
    Column("left", "Left", sample="9,999", align=_RIGHT, group_end=True),
    Column("supplier", "From", slack=True, sample="Upper Marling Vet", spare=5),
    Column("missing", "To fill", sample="batch number", marks=True),
)
"""The active substance is in the card, in the tip of the product and in what the filter finds."""
GIVEN = (
    Column("in", "In", sample=_DAY),
    Column("out", "Out", sample=_DAY, group_end=True),
    Column("product", "Product", slack=True, sample="Amitraz strips"),
    Column("batch", "Batch", sample="25B 1234"),
    Column("site", "Site", slack=True, sample="Sedge Holt"),
    Column("hives", "Hives", sample="999", align=_RIGHT),
    Column("pieces", "Given", sample="9,999", align=_RIGHT),
    Column("withdrawal", "Withdrawal", sample="99", align=_RIGHT, group_end=True),
    Column("who", "Who", sample="RH"),
    Column("state", "State", sample="99 days late", marks=True),
)
MITES = (
    Column("site", "Site", sample="Orchard Bank, low"),
    Column("hives", "Hives", sample="999", align=_RIGHT),
    Column("counted", "Counted", sample="999", align=_RIGHT, group_end=True),
    Column("mean", "Mean", "%", sample="12.5", align=_RIGHT),
    Column("spread", "Least to most", slack=True, sample="a line of this width", sorts=False, group_end=True),
    Column("over", "At the line", sample="999", align=_RIGHT, marks=True),
    Column("share", "Share", "%", sample="100", align=_RIGHT),
    Column("last", "Last counted", sample=_DAY),
)


def pack_row(pack: PackRow, today: date) -> Row:
    """One pack, ready to show."""
    lacking = pack.missing()
    missing = fill_words(lacking) if lacking else ""
    left = pack.left
    used_up = left is not None and left <= 0
    past = pack.expires_on is not None and pack.expires_on < today and not used_up
    words = course(pack.active).words
    cells = (
        Cell(pack.product, weight=600, tip=_product_words(words, pack)),
        Cell(pack.batch, "ink2"),
        _day(pack.acquired_on),
        Cell(long(pack.expires_on), "watch", mark=Mark.ODD)
        if past and pack.expires_on
        else _day(pack.expires_on),
        Cell(_count(pack.pieces)),
        Cell(_count(pack.used), tip=_unmeasured_words(pack.unmeasured)),
        Cell("" if left is None else signed_text(left), "watch" if left is not None and left < 0 else "ink"),
        Cell(pack.supplier, "ink2", tip=pack.supplier_address),
        Cell(missing, "watch", mark=Mark.ODD, tip=missing_words(lacking)) if missing else BLANK,
    )
    sort = (
        pack.product, pack.batch or None, pack.acquired_on, pack.expires_on, pack.pieces, pack.used, left,
        pack.supplier or None, len(lacking) or None,
    )  # fmt: skip
    found = " ".join([*(cell.text for cell in cells), words])
    return Row(pack.id, cells, sort, search=found)


def _product_words(active: str, pack: PackRow) -> str:
    return f"{active}; what a sheet means that names none" if pack.usual else active


def given_row(line: GivenLine, today: date) -> Row:
    """One line of the register, ready to show."""
    words, mark, ink = state_of(line, today)
    cells = (
        Cell(long(line.key.in_on), weight=600),
        Cell(out_words(line, today), "ink2"),
        Cell(line.product, weight=500),
        Cell(line.batch, "ink2"),
        Cell(line.site, "ink2"),
        Cell(f"{line.hives:,}"),
        Cell(_count(line.pieces), tip=_unmeasured_words(line.unmeasured)),
        Cell(_count(line.withdrawal_days)),
        Cell(line.who, "ink2"),
        Cell(words, ink, mark=mark, tip=_more_words(line, today)),
    )
    sort = (
        line.key.in_on, line.last_day, line.product, line.batch or None, line.site or None, line.hives, line.pieces,
        line.withdrawal_days, line.who or None, words or None,
    )  # fmt: skip
    return Row(line.key, cells, sort)


def out_words(line: GivenLine, today: date) -> str:
    """When it came out, or by when it is to, without its year in this one; blank for what leaves nothing in."""
    if not course(line.active).stays_in:
        return ""
    if line.due_out is not None:
        return f"by {short(line.due_out) if line.due_out.year == today.year else long(line.due_out)}"
    return long(line.last_day) if line.last_day else ""


def state_of(line: GivenLine, today: date) -> tuple[str, Mark | None, Token]:
    """What a line asks for: strips to come out, something to fill in, an odd course; nothing where all is well."""
    missing, odd = line.missing(), line.odd(today)
    if line.due_out is not None:
        days = (line.due_out - today).days
        if days < 0:
            return f"{counted(-days, 'day')} late", Mark.LATE, "now"
        if days == 0:
            return "out today", Mark.TODAY, "watch"
        if not missing:
            return f"{counted(line.days_in(today), 'day')} in", Mark.SOON, "ink2"
    if missing:
        return fill_words(missing), Mark.ODD, "watch"
    if odd:
        return _ODD.get(odd[0].code, "odd"), Mark.ODD, "watch"
    return ("ended", None, "ink2") if line.key.gone else ("", None, "ink2")


def fill_words(missing: Sequence[Finding]) -> str:
    """What is missing: the one thing by its name, several by their number."""
    return missing_words(list(missing)) if len(missing) == 1 else f"{len(missing)} to fill"


def _more_words(line: GivenLine, today: date) -> str:
    """All there is to say of a line, for who stays with the pointer on its state."""
    missing = missing_words(line.missing())
    said = [one.what for one in line.odd(today)]
    return ". ".join([f"To fill: {missing}", *said] if missing else said)


_ODD = {
    "medicine.long": "in too long",
    "medicine.short": "out early",
    "medicine.expired": "was expired",
    "medicine.out-before-in": "out before in",
}


def mite_rows(view: MiteView) -> list[Row]:
    """Every site with its newest counts, drawn on one scale."""
    scale = scale_of(view)
    return [_mite_row(site, view.line_hundredths, scale) for site in view.sites]


def scale_of(view: MiteView) -> int:
    """The right end of the scale in hundredths of a per cent: twice the line, or the most that was counted."""
    most = max((site.most_hundredths or 0 for site in view.sites), default=0)
    whole = max(most, 2 * view.line_hundredths)
    return -(-whole // 100) * 100


def mites_head(view: MiteView) -> str:
    """What the drawing shows, in words."""
    return f"0 to {per_cent(scale_of(view), 0)} %, upright: the farm's line at {line_words(view.line_hundredths)} %"


def line_words(hundredths: int) -> str:
    """A line as a person says it: "3", "2.5"."""
    return per_cent(hundredths, 0 if hundredths % 100 == 0 else 1)


def _mite_row(site: SiteMites, line: int, scale: int) -> Row:
    over = site.at_line > 0
    mean = site.mean_hundredths
    low = mean is not None and mean >= line
    cells = (
        Cell(site.site, weight=600),
        Cell(f"{site.standing:,}", "ink2"),
        Cell(f"{site.counted:,}" if site.counted else "", tip=_by_drop(site)),
        Cell("" if mean is None else per_cent(mean), "watch" if low else "ink", 600),
        _spread(site, line, scale),
        Cell(f"{site.at_line:,}", "watch", mark=Mark.TODAY) if over else BLANK,
        Cell(per_cent(site.at_line_hundredths or 0, 0) if over else "", "ink2"),
        _day(site.last_on),
    )
    sort = (
        site.site, site.standing, site.counted or None, mean, mean, site.at_line or None,
        site.at_line_hundredths or None, site.last_on,
    )  # fmt: skip
    return Row(site.site_id, cells, sort, site.site)


def _spread(site: SiteMites, line: int, scale: int) -> Cell:
    mean, least, most = site.mean_hundredths, site.least_hundredths, site.most_hundredths
    if mean is None or least is None or most is None:
        return BLANK
    said = f"{per_cent(least)} to {per_cent(most)} %, mean {per_cent(mean)} %"
    drawn = Interval(mean, least, most, 0, scale, line, thin=site.sampled < _FEW)
    return Cell(interval=drawn, spoken=said, tip=said)


_FEW = 3
"""Below this many washes or rolls the mean is drawn as a ring: too thin to rank by. Common practice, no source."""


def to_fill_words(packs: Sequence[PackRow]) -> str:
    """How many packs lack something."""
    number = sum(bool(pack.missing()) for pack in packs)
    return f"{number} to fill" if number else ""


def _by_drop(site: SiteMites) -> str:
    drops = site.counted - site.sampled
    return f"{drops} of them by drop, not in the mean" if drops else ""


def _day(day: date | None) -> Cell:
    return Cell(long(day), "ink2") if day else BLANK


def _count(number: int | None) -> str:
    return "" if number is None else f"{number:,}"


def _unmeasured_words(hives: int) -> str:
    return f"the quantity at {counted(hives, 'hive')} is not written down" if hives else ""
