"""The place Dispatch."""
