"""A new text size moves the margins and gaps of layouts that were made at another one."""

from __future__ import annotations

from PySide6.QtWidgets import QGridLayout, QLayout, QWidget

_MADE = "made_at"
"""The name under which a layout keeps the size it was made at, with its margins and gaps."""


def rescale(root: QWidget, old_pt: float, new_pt: float) -> None:
    """Set every layout below ``root`` for ``new_pt``; one not seen before was made at ``old_pt``.

    Always reckoned from the first figures, so that going up and down again ends where it began.
    """
    for layout in root.findChildren(QLayout):
        made = layout.property(_MADE)
        if made is None:
            made = [old_pt, *_figures(layout)]
            layout.setProperty(_MADE, made)
        factor = new_pt / made[0]
        _set(layout, [figure if figure < 2 else round(figure * factor) for figure in made[1:]])


def _figures(layout: QLayout) -> list[int]:
    edges = layout.contentsMargins()
    figures = [edges.left(), edges.top(), edges.right(), edges.bottom()]
    if isinstance(layout, QGridLayout):
        return [*figures, layout.horizontalSpacing(), layout.verticalSpacing()]
    return [*figures, layout.spacing()]


def _set(layout: QLayout, figures: list[int]) -> None:
    layout.setContentsMargins(*figures[:4])
    if isinstance(layout, QGridLayout):
        layout.setHorizontalSpacing(figures[4])
        layout.setVerticalSpacing(figures[5])
    else:
        layout.setSpacing(figures[4])
