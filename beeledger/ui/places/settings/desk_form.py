"""What this desk has settled for itself: look, text size, list of places, who sits here. It holds at once."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from beeledger.base.settings import DeskSettings
from beeledger.ui.widgets import look
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.field import Field

_LOOKS = (("auto", "as the desktop"), ("light", "light"), ("dark", "dark"))
_FOLDS = (("auto", "icons when the window is narrow"), ("folded", "always icons"), ("wide", "always words"))
SIZES = (9.0, 9.75, 11.0, 12.5, 14.0, 16.0)


class DeskForm(QWidget):
    """The fields of the desk; ``change`` is called with what was settled."""

    def __init__(self, change: Callable[..., None]) -> None:
        super().__init__()
        self._change = change
        self._filling = False
        self.fields: dict[str, Field] = {
            "look": Field("Look", editor=Choice(_LOOKS), message=False),
            "base_pt": Field("Text size", editor=Choice(_sizes(SIZES[1])), message=False),
            "places_folded": Field("List of places", editor=Choice(_FOLDS), message=False),
            "who": Field("Who sits here, as History shows it"),
            "desk": Field("Name of this desk"),
        }
        column = QVBoxLayout(self)
        column.setContentsMargins(look.px(16), look.px(4), look.px(16), look.px(8))
        column.setSpacing(look.px(6))
        for name, field in self.fields.items():
            field.setObjectName(f"settings.desk.{name}")
            column.addWidget(field)
            self._listen(name, field)

    def fill(self, settings: DeskSettings) -> None:
        """Show what is settled."""
        self._filling = True
        sizes = self.fields["base_pt"].editor
        if isinstance(sizes, Choice):
            sizes.set_options(_sizes(settings.base_pt))
        values = {
            "look": settings.look, "base_pt": f"{settings.base_pt:g}", "places_folded": settings.places_folded,
            "who": settings.who, "desk": settings.desk,
        }  # fmt: skip
        for name, value in values.items():
            if not self.fields[name].editor.hasFocus():
                self.fields[name].set_value(value)
        self._filling = False

    def _listen(self, name: str, field: Field) -> None:
        if isinstance(field.editor, QLineEdit):
            field.editor.editingFinished.connect(lambda: self._settle_name(name, field))
        else:
            field.changed.connect(lambda _word: self._settle_choice(name, field))

    def _settle_choice(self, name: str, field: Field) -> None:
        value = field.value()
        if value and not self._filling:
            self._change(**{name: float(value) if name == "base_pt" else value})

    def _settle_name(self, name: str, field: Field) -> None:
        if not field.value():
            field.say("now", "History wants a name here. Type one; the old one stays until then")
            return
        field.clear_message()
        self._change(**{name: field.value()})


def _sizes(now: float) -> list[tuple[str, str]]:
    """The sizes offered, with the one in force even if it is not among them."""
    return [(f"{size:g}", f"{size:g} pt") for size in sorted({*SIZES, now})]
