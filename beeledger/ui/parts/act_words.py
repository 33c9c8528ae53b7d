"""The line of an act in plain words: taking back what was taken back is bringing it again."""

from __future__ import annotations

_BACK = "Took back: "


def act_words(sentence: str) -> str:
    """The sentence of an act; an even number of takings back brings the first act again."""
    steps = 0
    while sentence.startswith(_BACK):
        sentence = sentence[len(_BACK) :]
        steps += 1
    if not steps:
        return sentence
    return f"{_BACK if steps % 2 else 'Brought again: '}{sentence}"
