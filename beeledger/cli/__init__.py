"""The command line: the same acts, reads and documents without a window."""
