"""The place History."""
