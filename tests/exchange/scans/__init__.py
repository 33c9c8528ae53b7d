"""Tests of scanned round sheets."""
