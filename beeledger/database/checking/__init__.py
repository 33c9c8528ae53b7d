"""Checking a whole ledger: every line of "Always true", each breach named."""
