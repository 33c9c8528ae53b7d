"""Acts: everything that changes the record goes through here."""
