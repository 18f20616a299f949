import csv
import tomllib
from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from scheduler.shop.calendar import Closure, Shut
from scheduler.shop.fields import Row
from scheduler.shop.forecast_rows import TypicalHour
from scheduler.shop.input_hash import input_hash
from scheduler.shop.moments import at_site
from scheduler.shop.read import read_shop
from scheduler.shop.shop import Shop
from scheduler.shop.tables import TABLES
from scheduler.shop.unit import Order
from scheduler.shop.write import site_text, table_text, write_shop
from shop.folder import edit

NAMES = st.text(st.characters(exclude_categories=("Cc", "Cs", "Cf", "Zs", "Zl", "Zp")), min_size=1, max_size=20).filter(
    lambda text: text[0] not in "=+-@"
)
NUMBERS = st.floats(1e-3, 1e6)
MOMENTS = st.datetimes(datetime(2026, 1, 1), datetime(2026, 12, 31), timezones=st.just(UTC)).map(
    lambda t: t.replace(microsecond=0)
)


def orders_of(template: Shop) -> st.SearchStrategy[Order]:
    """Orders with any name, weight and due moment, the two hours of the autumn day among them."""
    return st.builds(
        lambda customer, due, weight, away: template.orders[0].model_copy(
            update={"customer": customer, "due_at": at_site(due, template.site.tz), "weight": weight, "most_units_away": away}
        ),
        NAMES,
        MOMENTS,
        st.integers(1, 1000),
        st.none() | st.integers(1, 9),
    )


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_a_written_shop_reads_back_the_same(template: Shop, tmp_path: Path, data: st.DataObject) -> None:
    """Names with commas, quotes and any script, numbers to the last digit, moments to the second, flags and empty cells."""
    order = data.draw(orders_of(template))
    sizes = data.draw(
        st.fixed_dictionaries({"length_m": NUMBERS.map(lambda x: x / 1e6), "height_m": NUMBERS.map(lambda x: x / 1e6)})
    )
    area = data.draw(NUMBERS.map(lambda x: x / 1e5))
    unit = template.units[0].model_copy(update={**sizes, "name": data.draw(NAMES)})
    surface = template.surfaces[0].model_copy(update={"area_m2": area, "grip": data.draw(st.booleans())})
    made = template.model_copy(
        update={
            "orders": (order, *template.orders[1:]),
            "units": (unit, *template.units[1:]),
            "surfaces": (surface, *template.surfaces[1:]),
        }
    )
    write_shop(made, tmp_path / "shop")
    assert reread(tmp_path / "shop", made) == made


def reread(folder: Path, like: Shop) -> Shop:
    """Read what was written without the cross checks: drawn areas and dates may well be too large to plan."""
    site = like.site.model_validate(tomllib.loads((folder / "site.toml").read_text("utf-8")), context={"zone": like.site.tz})
    tables = {}
    for table in TABLES.values():
        file = folder / (site.typical_year if table.name == "typical_year" else table.file)
        if file.is_file():
            with file.open(encoding="utf-8", newline="") as lines:
                rows = [{k: None if v == "none" else v for k, v in row.items() if v} for row in csv.DictReader(lines)]
            tables[table.name] = tuple(table.row.model_validate(row, context={"zone": site.tz}) for row in rows)
    return Shop.model_validate({"site": site, **tables})


def test_the_template_survives_writing_and_reading(template: Shop, tmp_path: Path) -> None:
    """Through the real reader, with every check, twice."""
    write_shop(template, tmp_path / "once")
    once = read_shop(tmp_path / "once")
    write_shop(once, tmp_path / "twice")
    assert once == template
    for file in (tmp_path / "once").iterdir():
        assert file.read_bytes() == (tmp_path / "twice" / file.name).read_bytes()


def test_a_typical_year_is_written_to_the_file_that_the_settings_name(template: Shop, tmp_path: Path) -> None:
    """With a name it is read back; without one the writer refuses to lose it."""
    days = (datetime(2026, 6, 1, tzinfo=UTC) + timedelta(hours=i) for i in range(24 * 60))
    year = tuple(TypicalHour(month=t.month, day=t.day, hour=t.hour, air_temp_c=20, dew_point_c=8) for t in days)
    with pytest.raises(ValueError, match="name its file"):
        write_shop(template.model_copy(update={"typical_year": year}), tmp_path / "lost")
    site = template.site.model_copy(update={"typical_year": "typical_days.csv"})
    made = template.model_copy(update={"typical_year": year, "site": site})
    write_shop(made, tmp_path / "shop")
    assert read_shop(tmp_path / "shop") == made


def test_a_limit_that_was_cleared_stays_cleared(template: Shop, tmp_path: Path) -> None:
    """None in a column with a default is written as the word none."""
    product = template.products[0].model_copy(update={"rh_max_pct": None})
    made = template.model_copy(update={"products": (product, *template.products[1:])})
    write_shop(made, tmp_path / "shop")
    assert read_shop(tmp_path / "shop").products[0].rh_max_pct is None


def test_both_hours_of_the_autumn_day_keep_apart() -> None:
    """The first is written as wall time, the second with its offset, since wall time alone would be read as the first."""
    zone = ZoneInfo("Europe/Berlin")
    starts = [at_site(datetime(2026, 10, 25, hour, 30, tzinfo=UTC), zone) for hour in (0, 1)]
    rows: list[Row] = [
        Closure(what=Shut.SITE, closed_from=start, closed_until=start + timedelta(hours=2), reason="x") for start in starts
    ]
    lines = table_text(Closure, rows, zone).splitlines()
    assert lines[1] == "site,,2026-10-25T02:30,2026-10-25T03:30,x"
    assert lines[2] == "site,,2026-10-25T02:30+01:00,2026-10-25T04:30,x"


def test_settings_are_written_with_what_they_mean(template: Shop) -> None:
    """A planner sees the meaning beside the value; quotes in a name do not break the file."""
    site = template.site.model_copy(update={"name": 'Yard "north" \\ Süd'})
    text = site_text(site)
    assert tomllib.loads(text)["name"] == 'Yard "north" \\ Süd'
    assert "# length of a slot; divides an hour" in text


def test_the_fingerprint_is_of_the_content_not_of_the_files(folder: Path) -> None:
    """Line ends, a byte order mark, blank rows, order of columns, an offset and a duration in words change nothing."""
    before = input_hash(read_shop(folder))
    for path in folder.glob("*.csv"):
        path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes().replace(b"\n", b"\r\n") + b"\r\n")
    rows = [line.split(",") for line in (folder / "lots.csv").read_text("utf-8-sig").split()]
    (folder / "lots.csv").write_text("\n".join(",".join(reversed(row)) for row in rows) + "\n")
    edit(folder, "orders", 2, due_at="2026-06-23T20:00Z")
    edit(folder, "methods", 4, dry_min="PT1H")
    assert input_hash(read_shop(folder)) == before
    assert len(before) == 64


@pytest.mark.parametrize(
    ("table", "row", "cells"),
    [("orders", 2, {"weight": "4"}), ("units", 2, {"name": "Hopper body 1a"}), ("weather", 300, {"rain_mm": "0.1"})],
)
def test_the_fingerprint_tells_any_change(folder: Path, table: str, row: int, cells: dict[str, str]) -> None:
    """A weight, a name, one hour of rain: another input."""
    before = input_hash(read_shop(folder))
    edit(folder, table, row, **cells)
    assert input_hash(read_shop(folder)) != before
