"""The place Stock."""
