"""What every floor may use: units, dates, the clock, findings, errors, settings, paths. Standard library only."""
