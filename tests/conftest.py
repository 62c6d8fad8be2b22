"""Settings of the property tests: no time limit for one example, and the same examples every time in CI."""

from __future__ import annotations

import os

from hypothesis import HealthCheck, settings

from postgresql_made import database, postgresql, shared_database  # noqa: F401 - a PostgreSQL for every room's tests

settings.register_profile(
    "house", max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large]
)
settings.register_profile("ci", settings.get_profile("house"), derandomize=True, max_examples=40)
settings.load_profile("ci" if os.environ.get("CI") == "true" else "house")
