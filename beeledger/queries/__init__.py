"""Reads: a session and a filter in, frozen records out."""
