"""The tables. No behaviour. Importing the package maps them all."""

from beeledger.model import (
    acts,
    colonies,
    contracts,
    dispatches,
    due,
    farm,
    feeding,
    honey,
    medicines,
    moves,
    parties,
    queens,
    rounds,
    sites,
)

__all__ = [
    "acts",
    "colonies",
    "contracts",
    "dispatches",
    "due",
    "farm",
    "feeding",
    "honey",
    "medicines",
    "moves",
    "parties",
    "queens",
    "rounds",
    "sites",
]
