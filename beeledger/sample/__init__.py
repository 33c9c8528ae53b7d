"""The sample farm: a seeded generator that lets an invented farm live its years through the acts."""

from beeledger.sample.build import Built, build_sample
from beeledger.sample.scenario import Scenario, read_scenario

__all__ = ["Built", "Scenario", "build_sample", "read_scenario"]
