"""What holds for every test: no deadline by the clock, for a busy machine is no defect."""

from __future__ import annotations

from hypothesis import HealthCheck, settings

settings.register_profile(
    "claimkit", deadline=None, suppress_health_check=[HealthCheck.too_slow], print_blob=True
)
settings.load_profile("claimkit")
