"""The place Pollination."""
