"""Steps from each released schema to the next."""
