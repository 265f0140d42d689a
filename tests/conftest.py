"""What all tests share: how long property tests look, and that they look alike on every machine."""

import os

from hypothesis import HealthCheck, settings

# A compiled kernel makes the first example slow, so no deadline for a single one.
settings.register_profile(
    "desk", deadline=None, suppress_health_check=[HealthCheck.too_slow], print_blob=True
)
settings.register_profile("ci", settings.get_profile("desk"), derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "desk")
