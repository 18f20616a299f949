from pathlib import Path
from shutil import copyfile

import pytest

from scheduler.shop.new import new_workbook


@pytest.fixture(scope="session")
def original(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The template as a workbook, written once."""
    path = tmp_path_factory.mktemp("workbook") / "shop.xlsx"
    new_workbook(path)
    return path


@pytest.fixture
def book(original: Path, tmp_path: Path) -> Path:
    """A copy of it to do with as a test likes."""
    return Path(copyfile(original, tmp_path / "shop.xlsx"))
