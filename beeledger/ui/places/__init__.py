"""One folder for each entry of the list on the left."""
