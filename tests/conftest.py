"""What all tests share: rewriting expected results on demand, and how long random tests search."""

import os

import pytest
from hypothesis import HealthCheck, settings

settings.register_profile("usual", deadline=None, max_examples=60, derandomize=True)
settings.register_profile(
    "long", deadline=None, max_examples=5000, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large]
)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "usual"))


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--update", action="store_true", help="write expected results anew; a person reviews them")


@pytest.fixture
def update(request: pytest.FixtureRequest) -> bool:
    """Whether expected results are to be written instead of compared."""
    return bool(request.config.getoption("--update"))
