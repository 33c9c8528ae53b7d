"""What a place is given: read, act, say, ask, open a place."""
