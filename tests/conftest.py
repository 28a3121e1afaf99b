"""One setting of the property tests for every folder: the same cases on each run, many more with
MAKEGOOD_LONG=1.
"""

from __future__ import annotations

import os

import pytest
from hypothesis import HealthCheck, settings

LONG = os.environ.get("MAKEGOOD_LONG") == "1"

settings.register_profile("ci", derandomize=True, deadline=None, max_examples=50, database=None)
settings.register_profile(
    "long", deadline=None, max_examples=2_000, print_blob=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("long" if LONG else "ci")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Leave the tests marked `long` for the long run."""
    if LONG:
        return
    for item in items:
        if item.get_closest_marker("long"):
            item.add_marker(pytest.mark.skip(reason="long: python3 tests --long"))
