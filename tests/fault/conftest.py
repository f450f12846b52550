"""The airplanes of tests/airplane."""

from tests.airplane.conftest import airplane_of, merlow, shipped, small, small_yaml, tarn

__all__ = ["airplane_of", "merlow", "shipped", "small", "small_yaml", "tarn"]
