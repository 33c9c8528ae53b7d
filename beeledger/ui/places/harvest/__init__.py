"""The place Harvest."""
