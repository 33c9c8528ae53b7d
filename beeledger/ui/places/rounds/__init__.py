"""The place Rounds."""
