"""The file itself: opening, sessions, audit, migrations, backup, checking."""
