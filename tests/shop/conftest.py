from pathlib import Path

import pytest

from scheduler.shop.new import new_shop
from scheduler.shop.read import read_shop
from scheduler.shop.shop import Shop


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a fresh copy of the template shop."""
    new_shop(tmp_path / "shop")
    return tmp_path / "shop"


@pytest.fixture(scope="session")
def template(tmp_path_factory: pytest.TempPathFactory) -> Shop:
    """Return the template shop; it is frozen, so that tests can share it."""
    folder = tmp_path_factory.mktemp("template") / "shop"
    new_shop(folder)
    return read_shop(folder)
