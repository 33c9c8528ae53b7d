"""The tables. No behaviour."""
