"""What tests of every folder share."""

import os
from shutil import which

import pytest
from hypothesis import settings

# The gate gives the same answer every time; HYPOTHESIS_PROFILE=fuzz hunts with new examples at every run.
settings.register_profile("steady", derandomize=True, deadline=None)
settings.register_profile("fuzz", deadline=None, print_blob=True)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "steady"))


@pytest.fixture(scope="session")
def chromium() -> str:
    """Path of a Chromium; without one the test is skipped, or fails where ``COATRUN_BROWSER=required`` asks for it."""
    found = which("chromium") or which("chromium-browser")
    if found is not None:
        return found
    if os.environ.get("COATRUN_BROWSER") == "required":
        pytest.fail("COATRUN_BROWSER=required, and there is no chromium in the path")
    pytest.skip("no chromium in the path")
