"""Which examples is a property tried on? The same in every run, each for as long as it needs.

`--hypothesis-profile=searching` looks for new ones: other examples in each run, 2,000 wherever a test does
not say how many. A busy machine is no failure.
"""

from hypothesis import HealthCheck, settings

unhurried = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("same", unhurried, derandomize=True)
settings.register_profile("searching", unhurried, max_examples=2000)
settings.load_profile("same")
