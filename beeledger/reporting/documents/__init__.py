"""One module a document."""
