"""The place Batches."""
