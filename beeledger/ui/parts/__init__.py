"""Farm-aware pieces used by two or more places."""
