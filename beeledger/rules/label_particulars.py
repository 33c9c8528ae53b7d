"""One particular of a label and how it stands: what every check of a label hands back."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from beeledger.rules.label_figures import label_figures


class State(StrEnum):
    """How a particular stands."""

    MET = "met"
    NOT_MET = "not met"
    ADVICE = "advice"


@dataclass(frozen=True, slots=True)
class Particular:
    """One thing the law, or good sense, wants on a label. Measures in ``unit`` where there are any."""

    key: str
    title: str
    state: State
    words: str
    source: str
    measured: float | None = None
    least: float | None = None
    unit: str = ""


def met(key: str, title: str, words: str, source: str) -> Particular:
    """A particular that stands as it should."""
    return Particular(key, title, State.MET, words, source_named(source))


def not_met(key: str, title: str, words: str, source: str) -> Particular:
    """A particular the law wants and the label lacks."""
    return Particular(key, title, State.NOT_MET, words, source_named(source))


def advised(key: str, title: str, words: str, source: str) -> Particular:
    """Something the law does not force, or that only a person can answer."""
    return Particular(key, title, State.ADVICE, words, source_named(source))


def source_named(source: str) -> str:
    """The work behind a short name of labelling.toml, with what follows a blank: "food art. 13(2)"."""
    name, _, place = source.partition(" ")
    return f"{dict(label_figures().sources)[name]} {place}".strip()
