"""The place Reports."""
