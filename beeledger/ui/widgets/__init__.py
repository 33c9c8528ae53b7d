"""Plain pieces that know nothing of the farm."""
