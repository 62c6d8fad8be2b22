"""Settings of the property tests: no time limit for one example, and the same examples every time in CI.

The longest files come first, so that no core is left with one of them at the end.
"""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

from hypothesis import HealthCheck, settings

from postgresql_made import database, postgresql, shared_database  # noqa: F401 - a PostgreSQL for every room's tests

if TYPE_CHECKING:
    import pytest

os.environ.setdefault("SOFTSHOE_BY_RULES", "1")  # the network is heard in its own tests alone: it takes its time
LONG = ("test_browser.py", "test_make.py", "test_ways_of_saying.py", "test_listening.py", "test_any_text.py")

settings.register_profile(
    "house", max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large]
)
settings.register_profile("ci", settings.get_profile("house"), derandomize=True, max_examples=40)
settings.load_profile("ci" if os.environ.get("CI") == "true" else "house")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    order = {name: i for i, name in enumerate(LONG)}
    items.sort(key=lambda item: order.get(item.path.name, len(LONG)))
