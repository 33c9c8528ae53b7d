"""BeeLedger: the office of a bee farm with many sites, over one ledger."""

__version__ = "0.1.0"
