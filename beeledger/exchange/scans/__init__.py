"""Filled round sheets that were scanned or photographed, read back."""

from beeledger.exchange.scans.cuttings import box_picture, head_picture, line_picture
from beeledger.exchange.scans.pictures import ENDINGS
from beeledger.exchange.scans.reading import read_scans
from beeledger.exchange.scans.records import Mark, Says, ScannedPage, Scans

__all__ = [
    "ENDINGS",
    "Mark",
    "Says",
    "ScannedPage",
    "Scans",
    "box_picture",
    "head_picture",
    "line_picture",
    "read_scans",
]
