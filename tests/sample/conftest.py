"""The small sample farm, for the tests of this folder."""

from tests.builders.sample_farm import sample_file, sample_ledger, small_sample_file

__all__ = ["sample_file", "sample_ledger", "small_sample_file"]
