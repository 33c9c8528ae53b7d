"""The old spreadsheet: sites and hives read out of whatever a farm kept before. Writes nothing."""

from beeledger.exchange.register.answer import as_json
from beeledger.exchange.register.handing import to_register
from beeledger.exchange.register.reading import read_register
from beeledger.exchange.register.records import ColonyRow, RegisterReading, SiteRow

__all__ = ["ColonyRow", "RegisterReading", "SiteRow", "as_json", "read_register", "to_register"]
