"""The place Today."""
