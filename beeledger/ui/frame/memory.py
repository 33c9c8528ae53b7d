"""When the interpreter looks for what nothing refers to any more: never while somebody waits.

A look through everything takes 150 ms once all places are open on a farm of two thousand. What has been
loaded and built stays, so it is set aside and looked at no more; a look each minute goes through what is
new since the last one, in a few milliseconds.
"""

from __future__ import annotations

import gc

_YOUNG, _MIDDLE, _NEVER = 700, 10, 1_000_000


def settle_in() -> None:
    """The window is there: what stands is set aside, and the whole is never looked through of itself."""
    gc.freeze()
    gc.set_threshold(_YOUNG, _MIDDLE, _NEVER)
    gc.enable()


def keep() -> None:
    """Something was built that stays: a place with its tables. Only while a window is settled in."""
    if _settled():
        gc.freeze()


def tidy() -> None:
    """Look through what is new since the last time, and set it aside too. Only while a window is settled in."""
    if _settled():
        gc.collect()
        gc.freeze()


def move_out() -> None:
    """The window is gone: everything is looked through again as usual."""
    gc.unfreeze()
    gc.set_threshold(_YOUNG, _MIDDLE, _MIDDLE)


def _settled() -> bool:
    return gc.get_threshold()[2] == _NEVER
