"""Whatever stands in a folder, the reader answers with a shop or with faults."""

import shutil
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from scheduler.shop.faults import BadInputError
from scheduler.shop.forecast import bay_climate, hourly_weather
from scheduler.shop.read import read_shop
from scheduler.shop.shop import Shop
from scheduler.shop.tables import TABLES
from scheduler.shop.working_time import working_stretches
from shop.folder import drop, edit, set_site, table_of

FILES = [t.file for t in TABLES.values() if t.name not in {"typical_year", "weather"}]
NUMBERS = ("0", "-1", "1", "1e9", "1e-9", "nan", "99", "100", "sprayer:99999")
TIMES = (
    "2026-06-15T07:00",
    "2026-03-08T02:30",
    "2100-12-31T23:59",
    "1990-01-01T00:00",
    "2026-02-30",
    "2026-06-15",
    "24:00",
    "PT0S",
)
WORDS = ("x", "none", "P1Y", "yes", "H1", "S1", "coat", "yard", "any", "all", "two-part-lining", "mon", "warmer", "gun lift")
SCRIPT = ("", "=1", '"', "ß", "İ", "\n", "a b", "é" * 300)
NASTY = st.sampled_from((*NUMBERS, *TIMES, *WORDS, *SCRIPT))
QUICK = settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])


def answer(folder: Path) -> Shop | tuple[str, ...]:
    """Read a folder; what it says about a refused one can be printed."""
    try:
        return read_shop(folder)
    except BadInputError as error:
        faults = error.faults
    assert faults
    return tuple(fault.text() for fault in faults)


def is_usable(shop: Shop) -> None:
    """Derive what everybody derives first from an accepted shop."""
    weather = hourly_weather(shop)
    for bay in (*shop.bays, None):
        bay_climate(shop, weather, bay)
    for person in shop.crew:
        working_stretches(shop, person)


@QUICK
@given(data=st.data())
def test_any_word_in_any_cell(folder: Path, tmp_path: Path, data: st.DataObject) -> None:
    """Up to three cells are overwritten and a row is deleted: the answer is faults, or a shop that can be used."""
    copy = tmp_path / "copy"
    shutil.rmtree(copy, ignore_errors=True)
    shutil.copytree(folder, copy)
    for _ in range(data.draw(st.integers(1, 3))):
        table = data.draw(st.sampled_from([t.name for t in TABLES.values() if t.name != "typical_year"]))
        rows = table_of(copy, table)
        if rows:
            row = data.draw(st.integers(2, len(rows) + 1))
            edit(copy, table, row, **{data.draw(st.sampled_from(list(rows[0]))): data.draw(NASTY)})
    table = data.draw(st.sampled_from(["orders", "units", "surfaces", "products", "product_times", "methods", "bays", "shifts"]))
    if data.draw(st.booleans()):
        drop(copy, table, data.draw(st.integers(2, 4)))
    made = answer(copy)
    if isinstance(made, Shop):
        is_usable(made)


@QUICK
@given(data=st.data())
def test_any_bytes_in_any_file(folder: Path, tmp_path: Path, data: st.DataObject) -> None:
    """A few bytes of a table or of the settings are overwritten with any others."""
    copy = tmp_path / "copy"
    shutil.rmtree(copy, ignore_errors=True)
    shutil.copytree(folder, copy)
    path = copy / data.draw(st.sampled_from([*FILES, "site.toml"]))
    content = bytearray(path.read_bytes())
    at = data.draw(st.integers(0, len(content)))
    content[at : at + data.draw(st.integers(0, 3))] = data.draw(st.binary(max_size=4))
    path.write_bytes(bytes(content))
    made = answer(copy)
    if isinstance(made, Shop):
        is_usable(made)


@QUICK
@given(
    key=st.sampled_from(["zone", "plan_from", "plan_until", "grid_min", "altitude_m", "store_temp_c", "latitude_deg", "name"]),
    data=st.data(),
)
def test_any_setting(folder: Path, tmp_path: Path, key: str, data: st.DataObject) -> None:
    """Numbers, texts, dates, lists and tables in place of a setting."""
    copy = tmp_path / "copy"
    shutil.rmtree(copy, ignore_errors=True)
    shutil.copytree(folder, copy)
    values = [
        "0",
        "-1",
        "1e400",
        "nan",
        "true",
        '""',
        '"x"',
        "[]",
        "{}",
        "2026-06-15",
        "2026-06-15T07:00:00",
        "07:00:00",
        "12345678901234567890",
    ]
    set_site(copy, key, data.draw(st.sampled_from([*values, '"America/New_York"', "2026-06-15T07:00:00Z", "5", "60"])))
    made = answer(copy)
    if isinstance(made, Shop):
        is_usable(made)
