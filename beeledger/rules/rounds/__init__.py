"""Rounds: what a visit to one colony can say, how it is typed, checked and added up."""
