"""The window. The only floor that knows Qt."""
