"""The round as a workbook for a tablet: written, filled elsewhere, read back. Posts nothing."""

from beeledger.exchange.rounds.reading import read_round_workbook
from beeledger.exchange.rounds.records import RoundRow, RoundWorkbook, SiteLine
from beeledger.exchange.rounds.writing import write_round_workbook

__all__ = ["RoundRow", "RoundWorkbook", "SiteLine", "read_round_workbook", "write_round_workbook"]
