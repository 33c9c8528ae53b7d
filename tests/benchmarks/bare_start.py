"""The baseline of the start: an empty window, twenty mapped tables, one query. Run as a script with a ledger."""

import sys

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMainWindow
from sqlalchemy import ForeignKey, Integer, Text, create_engine, text
from sqlalchemy.orm import DeclarativeBase, Session, configure_mappers, mapped_column


class Base(DeclarativeBase):
    """The root of the twenty."""


TABLES = [
    type(
        f"Bare{number}",
        (Base,),
        {
            "__tablename__": f"bare_{number}",
            "id": mapped_column(Integer, primary_key=True),
            **{f"text_{column}": mapped_column(Text) for column in range(7)},
            "before_id": mapped_column(Integer, ForeignKey(f"bare_{max(0, number - 1)}.id")),
        },
    )
    for number in range(20)
]


class Bare(QMainWindow):
    """Says that it is ready once it has been painted and given a key."""

    def keyPressEvent(self, _event):  # Qt's own name
        self.taken = True


def main() -> int:
    app = QApplication([])
    configure_mappers()
    with Session(create_engine(f"sqlite:///{sys.argv[1]}")) as session:
        session.execute(text("SELECT count(*) FROM site")).scalar()
    window = Bare()
    window.resize(1366, 768)
    window.show()
    app.processEvents()
    QTest.keyClick(window, Qt.Key.Key_Down)
    app.processEvents()
    assert window.taken
    print("ready", flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
