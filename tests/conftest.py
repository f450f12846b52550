"""What holds for every test."""

from hypothesis import HealthCheck, settings

# A busy machine makes no property false, so nothing here is judged by the clock on the wall.
settings.register_profile("eyesout", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("eyesout")
