"""The place Settings."""
