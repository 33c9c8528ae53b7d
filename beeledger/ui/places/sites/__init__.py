"""The place Sites."""
