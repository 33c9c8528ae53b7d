"""The place Moves."""
