"""Filled round sheets that were scanned or photographed, read back."""

from beeledger.exchange.scans.reading import read_scans
from beeledger.exchange.scans.records import Mark, Says, ScannedPage, Scans

__all__ = ["Mark", "Says", "ScannedPage", "Scans", "read_scans"]
