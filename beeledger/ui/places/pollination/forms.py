"""The forms of Pollination: a contract, a look at the bloom, a strength check typed hive by hive."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from beeledger.base.dates import long, short
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.units import frames, hectares, per_cent, to_scale
from beeledger.operations.contracts import Counted, NewContract
from beeledger.queries.records.contract_desk import ContractChoices, ContractRow, CropHive, Standing
from beeledger.rules.contracts import crops, hives_wanted
from beeledger.ui.parts.typed_form import Typed, TypedForm
from beeledger.ui.widgets import look
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.field import Field, note_editor
from beeledger.ui.widgets.words import Words

_BRITISH = 100
_HECTARE = 10_000
_HALF_A_YEAR = timedelta(days=182)


@dataclass(frozen=True, slots=True)
class ContractTyped:
    """A contract as typed; ``grower`` is a name that is not known yet where ``new`` has no grower."""

    new: NewContract
    grower: str


def contract_form(choices: ContractChoices, today: date, row: ContractRow | None = None) -> TypedForm:
    """A new contract, or one changed."""
    growers = {str(grower.id): grower.name for grower in choices.growers}
    sites = [("", ""), *((str(site.id), site.name) for site in choices.sites)]
    title, word = ("Change the contract", "Save") if row else ("New contract", "Save")
    form = TypedForm(
        title,
        word,
        lambda typed: read_contract(typed, growers),
        today,
        "What was agreed. How many hives a crop wants is a rule of thumb that both agree on.",
    )
    form.add("name", Field("Name", prompt="Orchard 2026"))
    form.add_side_by_side(
        {
            "grower": Field("Grower", editor=Choice(list(growers.items()), free=True)),
            "site": Field("Site", editor=Choice(sites)),
        }
    )
    known_crops = [(code, crop.words) for code, crop in crops().items() if code != "other"]
    form.add_side_by_side(
        {
            "crop": Field("Crop", editor=Choice(known_crops, free=True)),
            "area": Field("Area", unit="ha", width=80),
        }
    )
    advice = Words("", role="small", ink="info", wrap=True)
    form.add_piece(advice)
    form.add_side_by_side(
        {
            "hives": Field("Hives", width=70),
            "price": Field("Price a hive", unit="£", width=96),
            "state": Field("State", editor=Choice((("agreed", "agreed"), ("offer", "offered")))),
        }
    )
    form.add_side_by_side({"on": Field("On by", width=120), "off": Field("Off by", width=120)})
    form.add_side_by_side(
        {
            "bees": Field("Least bees", unit="frames", width=110),
            "brood": Field("Least brood", unit="frames", width=110),
        }
    )
    form.add_side_by_side(
        {
            "weak": Field("Weak hive paid", "0", unit="%", width=112),
            "bonus": Field("Each frame more", "0", unit="£", width=120),
            "late": Field("Kept a day", "0", unit="£", width=96),
        }
    )
    form.add("terms", Field("Other terms", editor=note_editor(), message=False))
    form.add("tax", Field("Tax code", width=96, message=False))
    form.changed.connect(lambda values: advice.setText(stocking_words(values["crop"], values["area"])))
    form.set_values(values_of(row) if row else {"grower": "", "crop": ""})
    return form


def read_contract(typed: Typed, growers: dict[str, str]) -> ContractTyped | None:
    """What is typed as a contract; findings stand in ``typed``."""
    name = typed.wanted("name", "a contract needs a name")
    who = typed.wanted("grower", "who the grower is, is missing")
    crop = typed.wanted("crop", "which crop is missing")
    site = typed.wanted("site", "which site is missing")
    on, off = agreed_day(typed, "on"), agreed_day(typed, "off")
    area = typed.whole("area", _HECTARE)
    hives, price = typed.whole("hives"), typed.whole("price", _BRITISH)
    for field, figure, what in (
        ("hives", hives, "how many is missing"),
        ("price", price, "the price is missing"),
    ):
        if figure is None and not any(finding.where.field == field for finding in typed.findings):
            typed.refuse(field, what)
    bees, brood = typed.whole("bees", 10), typed.whole("brood", 10)
    weak, bonus, late = (
        typed.whole("weak", 100),
        typed.whole("bonus", _BRITISH),
        typed.whole("late", _BRITISH),
    )
    if on is None or off is None or hives is None or price is None or not (name and who and crop and site):
        return None
    known = who if who in growers else next((key for key, word in growers.items() if word == who), "0")
    new = NewContract(
        name, int(known), int(site), crop, hives, on, off, price, area, bees, brood, weak or 0, bonus or 0, late or 0,
        typed.text("terms"), typed.text("tax"), offered=typed.text("state") == "offer",
    )  # fmt: skip
    return ContractTyped(new, "" if new.grower_id else who)


def agreed_day(typed: Typed, field: str) -> date | None:
    """A day of a contract, which may be still to come: without a year the one nearest to today is meant."""
    ahead = Typed(typed.values, typed.today + _HALF_A_YEAR)
    day = ahead.day(field, needed=True)
    typed.findings += ahead.findings
    return day


def with_grower(typed: ContractTyped, grower_id: int) -> NewContract:
    """The contract with a grower who has just been written."""
    return replace(typed.new, grower_id=grower_id)


def values_of(row: ContractRow) -> dict[str, str]:
    """A contract as the form shows it."""
    terms = row.terms
    return {
        "name": row.name, "grower": str(row.grower_id), "site": str(row.site_id), "crop": row.crop,
        "area": "" if terms.area_m2 is None else hectares(terms.area_m2), "hives": str(terms.hives),
        "price": _pounds(terms.price_pence), "state": "offer" if row.standing is Standing.OFFERED else "agreed",
        "on": long(terms.on), "off": long(terms.off),
        "bees": "" if terms.least_bees_tenths is None else frames(terms.least_bees_tenths),
        "brood": "" if terms.least_brood_tenths is None else frames(terms.least_brood_tenths),
        "weak": per_cent(terms.weak_share_hundredths, 0), "bonus": _pounds(terms.bonus_frame_pence),
        "late": _pounds(terms.late_day_pence), "terms": terms.words, "tax": terms.tax_code,
    }  # fmt: skip


def stocking_words(crop: str, area: str) -> str:
    """What the rule of thumb says for an area; blank while it cannot say."""
    known = crops().get(crop)
    if known is None or not area.strip():
        return ""
    try:
        metres = to_scale(area, _HECTARE)
        low, high = (hives_wanted(metres, rate) for rate in (known.from_hundredths, known.to_hundredths))
    except ValueError:
        return ""
    many = f"{low} to {high}" if low != high else str(low)
    return f"Advice: {many} hives for {area} ha of {known.words} ({known.source})"


def bloom_form(row: ContractRow, today: date) -> TypedForm:
    """A look at the bloom."""

    def read(typed: Typed) -> tuple[date, int] | None:
        on, share = typed.day("on", needed=True), typed.whole("share", 100)
        if share is None and not typed.findings:
            typed.refuse("share", "how much is in flower is missing")
        return None if on is None or share is None else (on, share)

    form = TypedForm("Look at the bloom", "Save", read, today, f"{row.name}: {row.crop_words} at {row.site}")
    form.add_side_by_side(
        {
            "on": Field("Day", short(today), width=120),
            "share": Field("In flower", unit="%", width=96),
        }
    )
    return form


@dataclass(frozen=True, slots=True)
class CheckTyped:
    """A strength check as typed."""

    on: date
    by: str
    lines: tuple[Counted, ...]
    weather: str


def check_form(today: date, drawn: Sequence[CropHive], here: Sequence[CropHive], seed: int) -> TypedForm:
    """Counts hive by hive: the hives drawn by lot stand there already, figures are typed behind them."""
    known = {hive.mark: hive.colony_id for hive in here}

    def read(typed: Typed) -> CheckTyped | None:
        on = typed.day("on", needed=True)
        by = typed.wanted("by", "who counted is missing")
        lines, findings = read_counts(typed.text("counts"), known)
        typed.findings += findings
        return None if on is None else CheckTyped(on, by, lines, typed.text("weather"))

    note = (
        f"{len(drawn)} of {len(here)} hives drawn by lot {seed}. Behind each number type frames of bees, then "
        "frames of brood if counted: 12 8.5 5. A hive that was not opened is left as it is or taken out."
    )
    form = TypedForm("Strength check", "Save", read, today, note)
    form.add_side_by_side(
        {
            "on": Field("Day", short(today), width=110),
            "by": Field("Counted by", width=110, prompt="RH"),
            "weather": Field("Weather"),
        }
    )
    form.add("counts", Field("Hive, bees, brood", editor=note_editor()))
    form.fields["counts"].editor.setFixedHeight(look.px(18) * (len(drawn) + 3))
    form.fields["counts"].set_value("".join(f"{hive.mark} \n" for hive in drawn).rstrip("\n"))
    form.caution(
        "Smoke, veil, gloves and a second person within call: stings can kill those who are allergic."
    )
    return form


def read_counts(text: str, known: dict[str, int]) -> tuple[tuple[Counted, ...], list[Finding]]:
    """Lines of "mark bees brood"; a number alone is a hive that was not opened."""
    lines: list[Counted] = []
    findings: list[Finding] = []
    for row, line in enumerate(text.splitlines(), start=1):
        words = line.replace(",", " ").split()
        if len(words) < 2:
            continue
        mark, figures = words[0], words[1:3]
        try:
            if len(words) > 3:
                raise ValueError("has more than two figures")  # noqa: TRY301  # said like the others
            if mark not in known:
                raise ValueError("does not stand on the crop")  # noqa: TRY301  # said like the others
            tenths = [to_scale(figure, 10) for figure in figures]
            lines.append(Counted(known[mark], tenths[0], tenths[1] if len(tenths) > 1 else None))
        except ValueError as error:
            where = Where(row=row, field="counts", record=mark)
            findings.append(Finding("check.line", Grade.REFUSED, f"{mark}: {error}", "Type 12 8.5 5", where))
    if not lines and not findings:
        where = Where(field="counts")
        findings.append(
            Finding("check.empty", Grade.REFUSED, "No hive is counted yet", "Type 12 8.5 5", where)
        )
    return tuple(lines), findings


def _pounds(pence: int) -> str:
    return f"{pence // 100}" if pence % 100 == 0 else f"{pence // 100}.{pence % 100:02d}"
