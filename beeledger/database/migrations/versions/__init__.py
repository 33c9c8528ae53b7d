"""The steps, frozen once released."""
