"""The place Queens."""
