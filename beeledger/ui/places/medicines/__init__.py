"""The place Medicines."""
