"""Folder, workbook, folder: nothing is lost on the way."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from scheduler.shop.calendar import Closure, Shut
from scheduler.shop.forecast_rows import TypicalHour
from scheduler.shop.input_hash import input_hash
from scheduler.shop.moments import at_site
from scheduler.shop.read import read_shop
from scheduler.shop.shop import Shop
from scheduler.shop.tables import TABLES, TYPICAL_YEAR
from scheduler.shop.typed_rows import typed
from scheduler.shop.workbook.read import Workbook
from scheduler.shop.workbook.write import write_workbook
from scheduler.shop.write import write_shop
from shop.test_write import MOMENTS, NAMES

COUNTY = Path(__file__).parents[3] / "demo" / "county"
LENGTHS = st.floats(1e-9, 1e9)
QUICK = settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])


def reread(path: Path) -> Shop:
    """Read a workbook without the cross checks: drawn areas and dates may well be too large to plan."""
    book = Workbook(path)
    site = book.site()
    assert site.faults == ()
    assert site.site is not None
    rows = {}
    for table in TABLES.values():
        file = site.site.typical_year if table.name == TYPICAL_YEAR else table.file
        if file in book.names():
            made = typed(table, file, book.table(file), site.zone)
            assert made.faults == ()
            rows[table.name] = tuple(made.rows.values())
    return Shop.model_validate({"site": site.site, **rows})


@QUICK
@given(NAMES, LENGTHS, MOMENTS, st.none() | st.integers(1, 9), st.booleans(), LENGTHS)
@example("_x0041_ _x00e4_", 0.1 + 0.2, datetime(2026, 11, 1, 6, 30, tzinfo=UTC), None, True, 1e9)
@example("https://example.org", 1 / 3, datetime(2026, 11, 1, 5, 30, 7, tzinfo=UTC), 1, False, 1e-9)
@example("007", 1e-9, datetime(2026, 3, 8, 7, 0, tzinfo=UTC), 1, False, 123456789.12345678)
def test_whatever_a_shop_holds_comes_back(
    template: Shop, tmp_path: Path, name: str, length_m: float, due: datetime, away: int | None, grip: bool, area: float
) -> None:
    """Names of any script, digits and addresses as text, numbers to the last digit, both hours of the autumn day, seconds."""
    order = template.orders[0].model_copy(
        update={"customer": name, "due_at": at_site(due, template.site.tz), "most_units_away": away}
    )
    unit = template.units[0].model_copy(update={"name": name, "length_m": length_m})
    surface = template.surfaces[0].model_copy(update={"surface": name, "area_m2": area, "grip": grip})
    product = template.products[0].model_copy(update={"rh_max_pct": None})
    made = template.model_copy(
        update={
            "orders": (order, *template.orders[1:]),
            "units": (unit, *template.units[1:]),
            "surfaces": (surface, *template.surfaces[1:]),
            "products": (product, *template.products[1:]),
        }
    )
    write_workbook(made, tmp_path / "shop.xlsx")
    assert (reread(tmp_path / "shop.xlsx") == made) is True  # two shops in full would fill the screen


def test_the_demo_goes_there_and_back_byte_for_byte(tmp_path: Path) -> None:
    """Through the real reader with every check: typical year, offsets of the forecast, pinned and done steps."""
    shop = read_shop(COUNTY)
    write_shop(shop, tmp_path / "once")
    write_workbook(shop, tmp_path / "shop.xlsx")
    back = read_shop(tmp_path / "shop.xlsx")
    write_shop(back, tmp_path / "twice")
    assert back == shop
    assert input_hash(back) == input_hash(shop)
    for file in (tmp_path / "once").iterdir():
        assert file.read_bytes() == (tmp_path / "twice" / file.name).read_bytes()


def test_the_same_shop_gives_the_same_bytes(template: Shop, tmp_path: Path) -> None:
    """Prove that nothing of the moment of writing stands in a workbook."""
    for name in ("a.xlsx", "b.xlsx"):
        write_workbook(template, tmp_path / name)
    assert (tmp_path / "a.xlsx").read_bytes() == (tmp_path / "b.xlsx").read_bytes()


def test_both_hours_of_the_autumn_day_and_a_night_shift_keep_apart(template: Shop, tmp_path: Path) -> None:
    """The second 01:30 of New York's autumn day stands with its offset, the first as a plain date."""
    starts = [at_site(datetime(2026, 11, 1, hour, 30, tzinfo=UTC), template.site.tz) for hour in (5, 6)]
    shut = ((at, at + timedelta(hours=9)) for at in starts)
    rows = tuple(Closure(what=Shut.SITE, closed_from=a, closed_until=b, reason=f"until {b:%H:%M}") for a, b in shut)
    made = template.model_copy(update={"closures": rows})
    write_workbook(made, tmp_path / "shop.xlsx")
    assert reread(tmp_path / "shop.xlsx").closures == rows


def test_a_typical_year_needs_no_name_in_a_workbook(template: Shop, tmp_path: Path) -> None:
    """A sheet of that name with rows in it is used although the settings name none; a head alone is not."""
    days = (datetime(2026, 6, 1, tzinfo=UTC) + timedelta(hours=i) for i in range(24 * 60))
    year = tuple(TypicalHour(month=t.month, day=t.day, hour=t.hour, air_temp_c=20, dew_point_c=8) for t in days)
    named = template.model_copy(update={"typical_year": year, "site": template.site.model_copy(update={"typical_year": "x.csv"})})
    write_workbook(named, tmp_path / "shop.xlsx")
    assert read_shop(tmp_path / "shop.xlsx") == named
    from shop.workbook.sheets import change

    def forget(book: object) -> None:
        sheet = book["site"]  # type: ignore[index]
        next(row for row in sheet.iter_rows() if row[0].value == "typical_year")[1].value = None

    change(tmp_path / "shop.xlsx", forget)
    assert read_shop(tmp_path / "shop.xlsx").site.typical_year == "typical_year.csv"
    change(tmp_path / "shop.xlsx", lambda book: book["typical_year"].delete_rows(2, 2000))  # type: ignore[index]
    assert read_shop(tmp_path / "shop.xlsx").site.typical_year == ""
