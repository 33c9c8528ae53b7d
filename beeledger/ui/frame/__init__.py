"""The window around the places."""
