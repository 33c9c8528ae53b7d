"""What the law lets honey be: each measured criterion against its limit for that kind of honey.

The limits are the file ``honey.toml``; this room only reads them. The verdict of a laboratory and
the law of the place stand above what is computed here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import cache
from typing import Any

from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.resources import table
from beeledger.base.units import scaled

CRITERIA = ("moisture", "sugars", "sucrose", "insoluble", "conductivity", "free_acid", "diastase", "hmf")
NOWHERE = Where()


@dataclass(frozen=True, slots=True)
class Reading:
    """What was measured of a honey; None where nobody measured.

    Sugars, sucrose and insoluble matter in hundredths of g/100 g, conductivity in µS/cm, free acid
    in tenths of meq/kg, diastase in tenths of a Schade unit, HMF in tenths of mg/kg.
    """

    moisture_hundredths: int | None = None
    sugars_hundredths: int | None = None
    sucrose_hundredths: int | None = None
    insoluble_hundredths: int | None = None
    conductivity_us_cm: int | None = None
    free_acid_tenths: int | None = None
    diastase_tenths: int | None = None
    hmf_tenths: int | None = None

    def of(self, criterion: str) -> int | None:
        """The measured value of one of ``CRITERIA``, in the scale of the rules file."""
        return {
            "moisture": self.moisture_hundredths,
            "sugars": self.sugars_hundredths,
            "sucrose": self.sucrose_hundredths,
            "insoluble": self.insoluble_hundredths,
            "conductivity": self.conductivity_us_cm,
            "free_acid": self.free_acid_tenths,
            "diastase": self.diastase_tenths,
            "hmf": self.hmf_tenths,
        }[criterion]


@dataclass(frozen=True, slots=True)
class Kind:
    """What a honey is sold as. ``key`` is one of ``kinds()``."""

    key: str = "blossom"
    bakers: bool = False
    pressed: bool = False
    tropical: bool = False
    """Of declared tropical origin, or a blend of only such honeys."""
    low_enzyme: bool = False
    """Known to be naturally poor in enzymes (citrus is without saying so)."""

    def __post_init__(self) -> None:
        """ValueError for a kind the rules do not know."""
        if self.key not in kinds():
            raise ValueError(f"no kind of honey is called {self.key!r}")


@dataclass(frozen=True, slots=True)
class Limit:
    """The least and the most allowed, in the criterion's own scale; None where there is no bound."""

    least: int | None = None
    most: int | None = None


@dataclass(frozen=True, slots=True)
class Verdict:
    """One criterion judged. ``met`` is None when it was not measured or cannot be decided."""

    criterion: str
    name: str
    unit: str
    scale: int
    measured: int | None
    limit: Limit
    met: bool | None
    source: str

    def sentence(self) -> str:
        """In one line: "moisture 20.1 %, at most 20 % allowed"."""
        if self.measured is None:
            return f"{self.name} not measured"
        return f"{self.name} {_figure(self.measured, self.scale)} {self.unit}, {self.allowed()}"

    def allowed(self) -> str:
        """The limit in words: "at most 20 % allowed"."""
        if self.limit.most is not None:
            return f"at most {_figure(self.limit.most, self.scale)} {self.unit} allowed"
        if self.limit.least is not None:
            return f"at least {_figure(self.limit.least, self.scale)} {self.unit} required"
        return "no limit for this kind"


class Standing(StrEnum):
    """What a honey may be sold as, as far as it was measured."""

    AS_NAMED = "as named"
    BAKERS_ONLY = "as baker's honey only"
    NOT_AS_HONEY = "not as honey"
    NOT_MEASURED = "not measured"


@cache
def kinds() -> dict[str, str]:
    """The kinds of honey the limits know: key to name."""
    return dict(_rules()["names"])


def limit_of(criterion: str, kind: Kind) -> Limit:
    """The limit of one of ``CRITERIA`` for a kind of honey, in the criterion's scale.

    Source: SI 2015/1348 Sched. 1, Directive 2001/110/EC Annex II.
    """
    rule = _rules()["composition"][criterion]
    row = rule["kinds"].get(kind.key, rule["general"]) if "kinds" in rule else rule["general"]
    for claim, own in (("pressed", kind.pressed), ("tropical", kind.tropical)):
        if own and claim in rule:
            row = rule[claim]
    if kind.bakers and "bakers" in rule:
        row = rule["bakers"].get(kind.key, rule["bakers"]["general"])
    return Limit(row.get("least"), row.get("most"))


def judge(reading: Reading, kind: Kind) -> tuple[Verdict, ...]:
    """Each criterion of a reading against the limit for that kind, in the order of ``CRITERIA``.

    Diastase and HMF are meant after processing and blending, as the law means them.
    """
    return tuple(_judged(criterion, reading, kind) for criterion in CRITERIA)


def composition_findings(verdicts: Sequence[Verdict], where: Where = NOWHERE) -> list[Finding]:
    """What the verdicts hold against the honey: a breach is asked about, an open question doubtful.

    What was not measured gives no finding.
    """
    found = []
    for verdict in verdicts:
        code = f"honey.{verdict.criterion}"
        if verdict.met is False:
            mend = f"Sell it under another name, blend it, or keep it back ({verdict.source})"
            found.append(Finding(code, Grade.AGAINST, verdict.sentence(), mend, where))
        elif verdict.met is None and verdict.measured is not None:
            mend = "Measure HMF: up to 15 mg/kg the lower limit holds"
            found.append(Finding(code, Grade.DOUBTFUL, verdict.sentence(), mend, where))
    return found


def standing(reading: Reading, kind: Kind) -> Standing:
    """What the measured honey may be sold as: as named, as baker's honey only, or not as honey.

    NOT_MEASURED when nothing was measured: silence is no proof of anything.
    """
    if all(reading.of(criterion) is None for criterion in CRITERIA):
        return Standing.NOT_MEASURED
    if not kind.bakers and _passes(reading, kind):
        return Standing.AS_NAMED
    if _passes(reading, replace(kind, bakers=True)):
        return Standing.AS_NAMED if kind.bakers else Standing.BAKERS_ONLY
    return Standing.NOT_AS_HONEY


def _passes(reading: Reading, kind: Kind) -> bool:
    return all(verdict.met is not False for verdict in judge(reading, kind))


def _judged(criterion: str, reading: Reading, kind: Kind) -> Verdict:
    rules = _rules()["composition"]
    rule = rules[criterion]
    measured, limit = reading.of(criterion), limit_of(criterion, kind)
    met = None if measured is None else _within(measured, limit)
    if criterion == "diastase" and met is False and _is_low_enzyme(kind):
        limit = Limit(least=_low_enzyme_least(reading, limit))
        met = _low_enzyme_met(reading, limit)
    return Verdict(
        criterion, rule["name"], rule["unit"], rule["scale"], measured, limit, met, rules["source"]
    )


def _is_low_enzyme(kind: Kind) -> bool:
    return kind.low_enzyme or kind.key in _rules()["enzymes"]["low"]


def _low_enzyme_least(reading: Reading, general: Limit) -> int | None:
    """The lower diastase limit, unless HMF is measured and too high for it."""
    rules = _rules()["composition"]
    if reading.hmf_tenths is not None and reading.hmf_tenths > rules["low_enzyme_hmf_most"]:
        return general.least
    return int(rules["low_enzyme_diastase_least"])


def _low_enzyme_met(reading: Reading, limit: Limit) -> bool | None:
    """Whether the lower limit is met; None when only HMF could tell and nobody measured it."""
    assert reading.diastase_tenths is not None
    met = _within(reading.diastase_tenths, limit)
    return None if met and reading.hmf_tenths is None else met


def _within(measured: int, limit: Limit) -> bool:
    least_met = limit.least is None or measured >= limit.least
    return least_met and (limit.most is None or measured <= limit.most)


def _figure(value: int, scale: int) -> str:
    text = scaled(value, scale)
    return text.rstrip("0").rstrip(".") if "." in text else text


def _rules() -> dict[str, Any]:
    return table("rules", "honey.toml")
