"""How fast the program is beside a bare baseline in the same run. ``packaging/bench`` prints them in one table."""
