"""Words over several lines, figures left out whole, and columns that step out."""

from __future__ import annotations

from beeledger.ui.widgets import look
from beeledger.ui.widgets.cells import Column, Run
from beeledger.ui.widgets.column_fit import shared
from beeledger.ui.widgets.painting import shortened
from beeledger.ui.widgets.wrapping import wrapped, wrapped_runs

WIDE = "26 hives at £26.00, £676.00 and what is owed"


def test_no_word_is_lost_when_words_are_broken(qapp: object) -> None:
    lines = wrapped(WIDE, 120)
    assert len(lines) > 1
    assert " ".join(lines) == WIDE
    assert all(look.metrics().horizontalAdvance(line) <= 120 for line in lines)


def test_no_run_is_lost_when_runs_are_broken(qapp: object) -> None:
    lines = wrapped_runs([Run("99 dispatches"), Run(WIDE)], 120)
    assert " ".join(run.text for line in lines for run in line) == f"99 dispatches {WIDE}"


def test_a_figure_is_never_cut_in_half(qapp: object) -> None:
    metrics = look.metrics()
    for width in range(20, metrics.horizontalAdvance("347 ready for 1,026 hives"), 3):
        shown = shortened("347 ready for 1,026 hives", metrics, width).removesuffix("…").split()
        assert all(word in ("347", "1,026") for word in shown if any(letter.isdigit() for letter in word))


def test_spare_columns_step_out_the_highest_first_and_the_sorted_one_stays() -> None:
    columns = (Column("hive", "Hive"), Column("bees", "Bees", spare=2), Column("due", "Due", spare=1))
    assert shared(columns, [50, 50, 50], 150) == {0: 50, 1: 50, 2: 50}
    assert shared(columns, [50, 50, 50], 120) == {0: 50, 2: 70}
    assert shared(columns, [50, 50, 50], 120, kept=1) == {0: 50, 1: 70}
    assert shared(columns, [50, 50, 50], 40) == {0: 50}
