"""The place Colonies."""
