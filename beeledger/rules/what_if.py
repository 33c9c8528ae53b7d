"""What if: the arithmetic of feed, counts and queens line by line, each figure with its source. Writes nothing.

The rules themselves stand in ``stores``, ``mites`` and ``queens``; here they are only asked and told. Every figure
is an estimate; a look in the hive stands above it. The label decides on a treatment.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from functools import cache

from beeledger.base.dates import long, short
from beeledger.base.resources import table
from beeledger.base.text import counted
from beeledger.base.units import kilograms, litres, per_cent, scaled
from beeledger.rules import mites, queens, stores

AHEAD_DAYS = 30
"""How far a count is carried forward."""
_FEEDING = range(8, 12)
"""Months in which the winter's target is what is wanted; common practice, no source."""
RECORD = "the record"


@dataclass(frozen=True, slots=True)
class Step:
    """One line of the arithmetic: what is reckoned, what comes of it, and from where the figure is."""

    words: str
    figure: str
    source: str


@dataclass(frozen=True, slots=True)
class Stocked:
    """A colony's stores as last judged or weighed (grams), and its kind and boxes; None: not known."""

    stores_g: int | None = None
    on: date | None = None
    kind: str = "full"
    brood_boxes: int = 1


@cache
def _source(name: str, *path: str) -> str:
    found = table("rules", name)
    for part in path:
        found = found[part]
    return str(found["source"])


def if_fed(syrup_ml: int, mix: str, stocked: Stocked, today: date) -> list[Step]:
    """What so many millilitres of a mix add to the stores, and how long these last. KeyError for an unknown mix."""
    strength = stores.mix(mix)
    density = stores.density_g_per_litre(strength.brix_hundredths)
    sugar = stores.sugar_g_in(syrup_ml, mix)
    gained = stores.stores_from_sugar_g(sugar)
    volume, share = f"{litres(syrup_ml)} l of {strength.words}", per_cent(strength.brix_hundredths)
    factor = scaled(stores.figures().stores_per_sugar_hundredths, 100, 2)
    steps = [
        Step(f"{volume} × {density / 1000:.3f} kg a litre", f"{kilograms(round(density * syrup_ml / 1000), 2)} kg",
             _source("stores.toml", "density")),
        Step(f"of it sugar, {share} % by weight", f"{kilograms(sugar, 2)} kg", "parts by weight"),
        Step(f"kept as stores, × {factor}", f"{kilograms(gained, 2)} kg", _source("stores.toml", "conversion")),
    ]  # fmt: skip
    return [*steps, *_stock_after(gained, mix, stocked, today)]


def _stock_after(gained: int, mix: str, stocked: Stocked, today: date) -> Iterator[Step]:
    if stocked.stores_g is None or stocked.on is None:
        yield Step("its stores are not known", "", RECORD)
        return
    used = min(stocked.stores_g, stores.expected_use_g(stocked.on, today))
    left = stocked.stores_g - used
    yield Step(f"stores on {short(stocked.on)}", f"{kilograms(stocked.stores_g)} kg", RECORD)
    if used:
        yield Step("used since, by the months", f"−{kilograms(used)} kg", _source("stores.toml", "use"))
    yield Step(
        "stores with the feed", f"{kilograms(left + gained)} kg", "the sum; a heft or a look stands above it"
    )
    if stocked.kind == "full":
        gone = stores.lasts_until(left + gained, today)
        yield Step(
            "without forage they last",
            f"{counted((gone - today).days, 'day')}, to {short(gone)}",
            _source("stores.toml", "use"),
        )
    yield from _against_season(left + gained, mix, stocked, today)


def _against_season(has: int, mix: str, stocked: Stocked, today: date) -> Iterator[Step]:
    if today.month not in _FEEDING:
        line = stores.light_line_g(today.month, stocked.kind)
        words = "still light" if has < line else "not light"
        yield Step(f"light under {kilograms(line)} kg now", words, _source("stores.toml", "light"))
        return
    boxes = "nucleus" if stocked.kind != "full" else "single" if stocked.brood_boxes < 2 else "double"
    target = stores.winter_target_g(boxes)
    need = stores.feed_needed(target, has, mix)
    yield Step(
        f"wanted for the winter, {boxes}", f"{kilograms(target)} kg", _source("stores.toml", "winter_target")
    )
    yield Step(
        "still to feed",
        f"{litres(need.syrup_ml)} l: {kilograms(need.sugar_g)} kg sugar, {litres(need.water_ml)} l water",
        "(target − stores) ÷ the factor above",
    )


def if_counted(
    found: int, bees: int, line_hundredths: int, today: date, before_hundredths: int | None = None
) -> list[Step]:
    """What mites on so many bees by wash or roll would mean: the share, the line, when it is reached.

    ``before_hundredths`` is the share before a treatment that has ended since. ValueError without bees.
    """
    share = mites.infestation_hundredths(found, bees)
    words = {
        mites.Judgement.FINE: "under it", mites.Judgement.WATCH: "watch", mites.Judgement.TREAT: "decide on a treatment",
    }  # fmt: skip
    line = mites.line_words(line_hundredths)
    steps = [
        Step(f"{found} mites on {bees} bees × 100", f"{per_cent(share)} %", _source("mites.toml", "sample")),
        Step(
            f"the farm's line, {line} %",
            words[mites.judge(share, line_hundredths)],
            _source("mites.toml", "line"),
        ),
    ]
    days = mites.days_until(share, line_hundredths)
    doubling = f"doubling in {mites.figures().doubling_days} days with brood"
    growth = _source("mites.toml", "growth")
    if days:
        steps.append(Step(f"{doubling}: {line} % after", _after(days, today), growth))
    ahead = mites.projected(share, AHEAD_DAYS)
    steps.append(Step(f"in {AHEAD_DAYS} days without a treatment", f"about {per_cent(ahead)} %", growth))
    if before_hundredths:
        killed = mites.efficacy_hundredths(before_hundredths, share)
        steps.append(
            Step(
                f"against {per_cent(before_hundredths)} % before the treatment",
                f"{per_cent(abs(killed), 0)} % {'fewer' if killed >= 0 else 'more'}",
                "1 − after ÷ before",
            )
        )
    return steps


def if_dropped(found: int, days: int, today: date) -> list[Step]:
    """What a natural drop over so many days would mean, by the season's factor. ValueError without days."""
    own = mites.figures()
    daily = scaled(mites.daily_drop_hundredths(found, days), 100, 1)
    estimate, factor = mites.mites_from_drop(found, days, today.month), own.month_factor[today.month - 1]
    sure = "" if mites.drop_is_accurate(today.month) else ", less accurate this month"
    words = {
        mites.Judgement.FINE: "under it", mites.Judgement.WATCH: "watch", mites.Judgement.TREAT: "decide on a treatment",
    }  # fmt: skip
    drop, growth = _source("mites.toml", "drop"), _source("mites.toml", "growth")
    steps = [
        Step(f"{found} mites ÷ {counted(days, 'day')}", f"{daily} a day", "the count"),
        Step(f"× {factor} in {today:%B}{sure}", f"about {estimate:,} mites", drop),
        Step(f"a colony is kept below {own.most_mites:,}", words[mites.judge_drop(found, days, today)], drop),
    ]
    until = mites.days_until(estimate)
    if until:
        steps.append(
            Step(
                f"doubling in {own.doubling_days} days with brood: reached after",
                _after(until, today),
                growth,
            )
        )
    steps.append(
        Step(
            f"in {AHEAD_DAYS} days without a treatment",
            f"about {mites.projected(estimate, AHEAD_DAYS):,} mites",
            growth,
        )
    )
    return steps


def if_hatched(emerged: date) -> list[Step]:
    """When a queen that emerged on a day mates, lays, and is feared a drone layer; when her bees emerge."""
    own, mating = _source("queens.toml", "virgin"), queens.virgin(emerged)
    grown, drones = _source("queens.toml", "development"), _source("queens.toml", "drones")
    lays, worker = mating.laying_about, queens.Caste.WORKER
    return [
        Step("she flies to mate", f"{short(mating.mating_from)} to {short(mating.mating_until)}", own),
        Step("mature drones need eggs laid by", long(queens.drone_eggs_by(mating.mating_from)), drones),
        Step("she lays about", long(lays), own),
        Step("her first brood is sealed", long(queens.sealed_on(worker, lays)), grown),
        Step("her first workers emerge", long(queens.emerges_on(worker, lays)), grown),
        Step("without eggs a drone layer is feared from", long(mating.drone_layer_from), own),
    ]


def if_laying_stopped(last_egg: date) -> list[Step]:
    """When the brood of a queen that laid her last egg on a day has all emerged: when oxalic acid meets no brood."""
    grown = _source("queens.toml", "development")
    worker, drone = queens.broodless_from(last_egg), queens.broodless_from(last_egg, with_drones=True)
    return [
        Step("the last worker brood is sealed", long(queens.sealed_on(queens.Caste.WORKER, last_egg)), grown),
        Step("no worker brood from", long(worker), grown),
        Step("no drone brood from", long(drone), grown),
        Step("drones of the last eggs are mature", long(queens.drones_mature(last_egg)), _source("queens.toml", "drones")),
    ]  # fmt: skip


def _after(days: int, today: date) -> str:
    return f"{counted(days, 'day')}, {short(date.fromordinal(today.toordinal() + days))}"
