"""Spreadsheets and filled sheets in."""
