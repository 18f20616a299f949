"""Each check of more than one cell: the template passes, and a folder that breaks it alone is refused for it."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from scheduler.shop.cross_checks import OF_SHOP, OF_TABLES
from shop.folder import add, drop, edit, edit_all, faults_of, place, set_site, table_of


@dataclass(frozen=True)
class Case:
    """A way to break a check, where the fault is and what it says."""

    check: str
    spoil: Callable[[Path], object]
    place: tuple[str, int | None, str | None]
    says: tuple[str, ...]
    alone: bool = True


def new_row(table: str, **cells: str) -> Callable[[Path], None]:
    """Add a row."""
    return lambda folder: add(folder, table, **cells)


def cell(table: str, row: int, **cells: str) -> Callable[[Path], None]:
    """Overwrite cells of a row."""
    return lambda folder: edit(folder, table, row, **cells)


def site(key: str, value: str) -> Callable[[Path], None]:
    """Overwrite a setting."""
    return lambda folder: set_site(folder, key, value)


def both(*spoils: Callable[[Path], object]) -> Callable[[Path], None]:
    """Break the folder in several places."""

    def spoil(folder: Path) -> None:
        for part in spoils:
            part(folder)

    return spoil


def without(table: str, *rows: int) -> Callable[[Path], None]:
    """Delete rows."""
    return lambda folder: drop(folder, table, *rows)


def done(**cells: str) -> Callable[[Path], None]:
    """Record a step as done."""
    row = {"unit_id": "H1", "step": "receive", "started_at": "2026-06-14T08:00", "ended_at": "2026-06-14T09:00", "people": "eli"}
    return lambda folder: add(folder, "done", **(row | cells))


def pinned(**cells: str) -> Callable[[Path], None]:
    """Fix a step."""
    return lambda folder: add(folder, "pinned", **({"unit_id": "H1", "step": "coat-1", "start_at": "2026-06-18T08:00"} | cells))


def only_rows(table: str, column: str, value: str) -> Callable[[Path], None]:
    """Keep the rows with one value in a column."""

    def spoil(folder: Path) -> None:
        drop(folder, table, *(i for i, row in enumerate(table_of(folder, table), 2) if row[column] != value))

    return spoil


def typical(month: str = "6", day: str = "28", hour: str = "0", **cells: str) -> Callable[[Path], None]:
    """Name a typical year of one hour."""
    row = {"air_temp_c": "20", "dew_point_c": "10"} | cells

    def spoil(folder: Path) -> None:
        set_site(folder, "typical_year", '"typical.csv"')
        text = f"month,day,hour,air_temp_c,dew_point_c\n{month},{day},{hour},{row['air_temp_c']},{row['dew_point_c']}\n"
        (folder / "typical.csv").write_text(text)

    return spoil


CASES = [
    Case("duplicates", new_row("orders", customer="Other"), ("orders.csv", 5, "order_id"), ("row 2 has it",), alone=False),
    Case("duplicates", cell("units", 3, unit_id="h1"), ("units.csv", 3, "unit_id"), ("'H1' in row 2 only by case",), alone=False),
    Case("duplicates", new_row("surfaces", surface="OUTSIDE"), ("surfaces.csv", 13, "unit_id + surface"), ("only by case",)),
    Case("duplicates", new_row("surfaces", surface="ｏutside"), ("surfaces.csv", 13, "unit_id + surface"), ("Unicode form",)),
    Case(
        "duplicates",
        cell("product_times", 3, temp_c="5.0"),
        ("product_times.csv", 3, "product_id + temp_c"),
        ("row 2",),
        alone=False,
    ),
    Case("duplicates", cell("weather", 9, at="2026-06-15T06:00-04:00"), ("weather.csv", 9, "at"), ("row 2 has it",), alone=False),
    Case(
        "unknown_ids",
        cell("units", 2, order_id="O9"),
        ("units.csv", 2, "order_id"),
        ("not in orders.csv", "use one of O1, O2, O3"),
    ),
    Case(
        "unknown_ids",
        cell("surfaces", 2, system_id="s1"),
        ("surfaces.csv", 2, "system_id"),
        ("not in coating_systems", "write S1"),
    ),
    Case("unknown_ids", cell("lots", 2, product_id="bonding-prime"), ("lots.csv", 2, "product_id"), ("write bonding-primer",)),
    Case("unknown_ids", cell("opened", 2, lot_id="XX"), ("opened.csv", 2, "lot_id"), ("not in lots.csv",)),
    Case("unknown_ids", cell("crew", 2, shift_id="night"), ("crew.csv", 2, "shift_id"), ("not in shifts.csv", "use one of day")),
    Case("unknown_ids", pinned(unit_id="H9"), ("pinned.csv", 2, "unit_id"), ("not in units.csv",)),
    Case("unknown_ids", done(bay_id="B7"), ("done.csv", 2, "bay_id"), ("not in bays.csv",)),
    Case(
        "unknown_things",
        cell("closures", 3, which="elly"),
        ("closures.csv", 3, "which"),
        ("not in crew.csv", "use one of ana, ben"),
    ),
    Case("unknown_things", cell("closures", 2, which="B1"), ("closures.csv", 2, "which"), ("names something else",)),
    Case("unknown_things", cell("closures", 3, which=""), ("closures.csv", 3, "which"), ("not in crew.csv",)),
    Case("unknown_things", done(people="zoe"), ("done.csv", 2, "people"), ("not in crew.csv",)),
    Case("horizon", site("plan_until", "2026-06-15T07:00:00"), ("site.toml", 11, "plan_until"), ("not after plan_from",)),
    Case("horizon", site("plan_until", "2099-06-15T07:00:00"), ("site.toml", 11, "plan_until"), ("26,663 days", "at most 366")),
    Case("shifts", cell("shifts", 2, break_ends=""), ("shifts.csv", 2, "break_ends"), ("one end only",)),
    Case(
        "shifts",
        cell("shifts", 2, break_starts="15:00", break_ends="16:00"),
        ("shifts.csv", 2, "break_starts"),
        ("inside the shift",),
    ),
    Case("shifts", cell("shifts", 2, break_starts="12:00", break_ends="11:30"), ("shifts.csv", 2, "break_starts"), ("inside",)),
    Case(
        "closures",
        cell("closures", 3, closed_until="2026-06-22T06:00"),
        ("closures.csv", 3, "closed_until"),
        ("before it starts",),
    ),
    Case(
        "empty_calendar",
        new_row("closures", closed_from="2026-06-01T00:00", closed_until="2026-08-01T00:00"),
        ("shifts.csv", None, None),
        ("nobody is on shift",),
    ),
    Case("nothing_to_do", new_row("orders", order_id="O4"), ("orders.csv", 5, "order_id"), ("no units",)),
    Case("nothing_to_do", new_row("units", unit_id="H3"), ("units.csv", 8, "unit_id"), ("no surfaces",)),
    Case(
        "unit_dates",
        cell("units", 2, available_from="2026-07-15T07:00"),
        ("units.csv", 2, "available_from"),
        ("after plan_until",),
    ),
    Case(
        "unit_dates",
        cell("units", 5, must_leave_by="2026-06-15T12:00"),
        ("units.csv", 5, "must_leave_by"),
        ("before it is available",),
    ),
    Case("surface_shares", cell("surfaces", 3, failing_pct="0"), ("surfaces.csv", 3, "failing_pct"), ("nothing is failing",)),
    Case("surface_shares", cell("surfaces", 2, failing_pct="5"), ("surfaces.csv", 2, "failing_pct"), ("sound surface with",)),
    Case("missing_methods", without("methods", 10), ("methods.csv", None, "step"), ("no row for coat, which H1",), alone=False),
    Case("missing_methods", without("methods", 8), ("methods.csv", None, "step"), ("no row for wipe",)),
    Case("missing_methods", without("methods", 6), ("methods.csv", None, "step"), ("no row for abrade",)),
    Case("yard_steps", cell("methods", 2, stage="coat"), ("methods.csv", 2, "stage"), ("not in the stage yard", "write yard")),
    Case(
        "yard_steps",
        cell("methods", 13, stage="yard"),
        ("methods.csv", 13, "stage"),
        ("inspect is in the stage yard",),
        alone=False,
    ),
    Case("coats_everywhere", new_row("coating_systems", system_id="S2"), ("coating_systems.csv", 8, "system_id"), ("no coat",)),
    Case("tools", cell("methods", 4, tools="wascher"), ("methods.csv", 4, "tools"), ("no kind of equipment", "write washer")),
    Case("tools", without("equipment", 6), ("methods.csv", 4, "tools"), ("needs a washer and there is none",)),
    Case("tools", cell("equipment", 6, count="0"), ("methods.csv", 4, "tools"), ("needs a washer and there is none",)),
    Case("sprayed_with_gun", cell("methods", 10, tools=""), ("methods.csv", 10, "tools"), ("names none", "add gun")),
    Case(
        "skills",
        cell("methods", 13, people="inspektor:1"),
        ("methods.csv", 13, "people"),
        ("nobody", "inspektor", "write inspector"),
    ),
    Case(
        "skills", cell("methods", 10, people="sprayer:3"), ("methods.csv", 10, "people"), ("only 2 of the crew have", "3 needed")
    ),
    Case("skills", cell("methods", 13, people="inspector:2 sprayer:2"), ("methods.csv", 13, "people"), ("4 different people",)),
    Case("never_alone", cell("methods", 10, people="sprayer:1"), ("methods.csv", 10, "people"), ("nobody sprays alone",)),
    Case(
        "stages",
        cell("bays", 2, stages="prepair"),
        ("methods.csv", 4, "stage"),
        ("no bay has this stage", "write prepair"),
        alone=False,
    ),
    Case("stages", cell("bays", 3, stages="coat dry"), ("bays.csv", 3, "stages"), ("no step of methods.csv",)),
    Case("stages", cell("methods", 5, stage="coat"), ("methods.csv", 6, "stage"), ("goes back to a stage that strip has left",)),
    Case(
        "unit_fits",
        cell("units", 2, length_m="9.1"),
        ("units.csv", 2, "length_m"),
        ("fits no bay for the stage", "9.1 against 8"),
        alone=False,
    ),
    Case("unit_fits", cell("units", 2, mass_kg="3100"), ("units.csv", 2, "mass_kg"), ("3100 against 3000",), alone=False),
    Case(
        "lifts",
        cell("equipment", 7, lift_kg="500"),
        ("units.csv", 2, "mass_kg"),
        ("strongest lift takes 500 kg", "move_in"),
        alone=False,
    ),
    Case("figures", cell("equipment", 2, slots=""), ("equipment.csv", 2, "slots"), ("needed for a warmer",)),
    Case("figures", cell("equipment", 7, lift_kg=""), ("equipment.csv", 7, "lift_kg"), ("needed for a lift",)),
    Case("figures", cell("equipment", 3, cut_out_bar=""), ("equipment.csv", 3, "cut_out_bar"), ("needed for a compressor",)),
    Case("figures", cell("equipment", 3, gun_bar="11"), ("equipment.csv", 3, "gun_bar"), ("above the highest pressure",)),
    Case("air", cell("equipment", 3, fad_l_s="6"), ("equipment.csv", 4, "air_l_s"), ("6.3 L/s on average", "deliver 6 L/s")),
    Case(
        "windows",
        cell("product_times", 7, recoat_max_h="1"),
        ("product_times.csv", 7, "recoat_max_h"),
        ("before it opens",),
        alone=False,
    ),
    Case(
        "cold_is_slow", cell("product_times", 7, handle_h="30"), ("product_times.csv", 7, "handle_h"), ("longer than at 10 °C",)
    ),
    Case(
        "needed_temperatures",
        only_rows("product_times", "product_id", "two-part-lining"),
        ("products.csv", 2, "product_id"),
        ("no sheet times",),
        alone=False,
    ),
    Case("needed_temperatures", without("product_times", 5), ("products.csv", 3, "steel_min_c"), ("begin at 10 °C",)),
    Case(
        "needed_temperatures",
        cell("bays", 3, heated_to_c="42"),
        ("products.csv", 3, "product_id"),
        ("kept at 42 °C", "5 to 40"),
        alone=False,
    ),
    Case("contents", cell("products", 3, end_heel_ml="1440"), ("products.csv", 3, "pack_ml"), ("nothing is left",)),
    Case("contents", cell("products", 3, volume_solids_pct="0"), ("products.csv", 3, "volume_solids_pct"), ("no solids",)),
    Case("contents", cell("products", 3, loss_pct="100"), ("products.csv", 3, "loss_pct"), ("everything is lost",)),
    Case("sheets", cell("products", 3, radius_mm=""), ("products.csv", 3, "radius_mm"), ("how long they are warmed",)),
    Case("sheets", cell("products", 3, spray_min_c=""), ("products.csv", 3, "spray_min_c"), ("how long they are warmed",)),
    Case("sheets", cell("products", 3, gel_time_min="0"), ("products.csv", 3, "gel_time_min"), ("gel time",)),
    Case("sheets", cell("products", 3, spray_target_c="33"), ("products.csv", 3, "spray_min_c"), ("do not rise",)),
    Case("warmers", without("equipment", 2), ("equipment.csv", None, "kind"), ("no warmer",)),
    Case(
        "warmers",
        cell("equipment", 2, set_point_c="26.7"),
        ("equipment.csv", 2, "set_point_c"),
        ("never gets warmer",),
        alone=False,
    ),
    Case(
        "warmers",
        cell("equipment", 2, set_point_c="35"),
        ("equipment.csv", 2, "set_point_c"),
        ("hotter than two-part",),
        alone=False,
    ),
    Case(
        "warmer_slots",
        cell("equipment", 2, slots="7"),
        ("units.csv", 2, "unit_id"),
        ("takes 8 cartridges", "hold 7"),
        alone=False,
    ),
    Case("lots", cell("lots", 4, arrives_on="2027-07-01"), ("lots.csv", 4, "expires_on"), ("expires before it arrives",)),
    Case("opened", cell("opened", 2, remaining_ml="1501"), ("opened.csv", 2, "remaining_ml"), ("more than a full pack",)),
    Case("opened", cell("opened", 2, opened_on="2026-01-31"), ("opened.csv", 2, "opened_on"), ("before its lot arrives",)),
    Case("shortages", cell("lots", 2, expires_on="2026-06-01"), ("lots.csv", 2, "packs"), ("bonding-primer", "starve")),
    Case("hours", cell("weather", 337, at="2026-06-29T09:30Z"), ("weather.csv", 337, "at"), ("whole hour",)),
    Case("hours", cell("weather", 9, dew_point_c="", rh_pct=""), ("weather.csv", 9, "dew_point_c"), ("neither",)),
    Case("hours", cell("weather", 9, dew_point_c="40"), ("weather.csv", 9, "dew_point_c"), ("above the air",)),
    Case("holes", without("weather", 9, 10), ("weather.csv", 9, "at"), ("2 hours missing", "2026-06-15T13:00-0400")),
    Case("typical_hours", typical(month="2", day="30"), ("typical.csv", 2, "day"), ("month 2 has no day 30",), alone=False),
    Case("none_at_all", lambda f: (f / "weather.csv").unlink(), ("weather.csv", None, None), ("no weather for bay B1",)),
    Case(
        "none_at_all",
        both(lambda f: (f / "weather.csv").unlink(), cell("bays", 2, outdoor="yes")),
        ("weather.csv", None, None),
        ("no weather for the outdoor bay B1",),
    ),
    Case("forecast_start", without("weather", 2, 3), ("weather.csv", 2, "at"), ("starts after plan_from",)),
    Case("forecast_end", site("plan_until", "2026-06-30T08:00:00"), ("weather.csv", None, "at"), ("26 hours short",)),
    Case(
        "typical_cover",
        typical(month="6", day="29", hour="5"),
        ("typical.csv", None, None),
        ("hours missing that the plan needs",),
    ),
    Case("step_names", pinned(step="coat-9"), ("pinned.csv", 2, "step"), ("H1 has no such step", "coat-")),
    Case("step_names", done(step="recieve"), ("done.csv", 2, "step"), ("no such step", "write receive")),
    Case("pinned_starts", pinned(start_at="2026-07-18T08:00"), ("pinned.csv", 2, "start_at"), ("outside plan_from",)),
    Case("pinned_starts", pinned(start_at="2026-06-18T08:05"), ("pinned.csv", 2, "start_at"), ("every 15 minutes",)),
    Case(
        "warming_since",
        lambda folder: add(folder, "warming", unit_id="H1", step="coat-1", loaded_at="2026-06-16T08:00"),
        ("warming.csv", 2, "loaded_at"),
        ("the plan begins before",),
    ),
    Case("done_times", done(ended_at="2026-06-14T08:00"), ("done.csv", 2, "ended_at"), ("before it started",)),
    Case(
        "done_times",
        both(done(), done(step="move_in-prepare", started_at="2026-06-14T08:30", ended_at="2026-06-14T09:30")),
        ("done.csv", 3, "started_at"),
        ("before receive of the unit had ended",),
    ),
    Case("done_without_gaps", done(step="wash"), ("done.csv", 2, "step"), ("receive, move_in-prepare of H1 come before",)),
    Case(
        "under_way",
        done(people="", started_at="2026-06-15T06:30", ended_at="2026-06-15T09:00"),
        ("done.csv", 2, "people"),
        ("nobody is on it",),
    ),
    Case(
        "under_way",
        both(
            done(started_at="2026-06-14T08:00", ended_at="2026-06-14T08:30"),
            done(step="move_in-prepare", started_at="2026-06-15T06:30", ended_at="2026-06-15T09:00", people="eli"),
        ),
        ("done.csv", 3, "bay_id"),
        ("has no bay",),
    ),
    Case(
        "rework_steps",
        lambda folder: add(folder, "rework", unit_id="H1", after="coat-9", kind="abrade", reason="late"),
        ("rework.csv", 2, "after"),
        ("no such step", "coat-"),
    ),
    Case(
        "rework_steps",
        lambda folder: (
            add(folder, "rework", unit_id="H1", after="wash", kind="wipe", reason="rain", number="2"),
            add(folder, "rework", unit_id="H1", after="wash", kind="abrade", reason="rain", number="2"),
        ),
        ("rework.csv", 3, "number"),
        ("has this number",),
    ),
    Case(
        "rework_steps",
        lambda folder: add(folder, "rework", unit_id="H1", after="wash", kind="rest", reason="rain"),
        ("rework.csv", 2, "share_pct"),
        ("above 0 and below 100",),
    ),
    Case(
        "rework_steps",
        lambda folder: add(folder, "rework", unit_id="H1", after="receive", kind="rest", share_pct="40", reason="rain"),
        ("rework.csv", 2, "after"),
        ("has no rate over its area",),
    ),
    Case(
        "rework_steps",
        lambda folder: add(folder, "rework", unit_id="H1", after="wash", kind="repair", share_pct="5", reason="blisters"),
        ("rework.csv", 2, "film"),
        ("has no film before it",),
    ),
    Case(
        "rework_steps",
        lambda folder: add(folder, "rework", unit_id="H1", after="coat-1", kind="repair", reason="runs", stage="cellar"),
        ("rework.csv", 2, "stage"),
        ("no such stage", "prepare, coat"),
    ),
    Case(
        "rework_steps",
        lambda folder: add(folder, "rework", unit_id="H1", after="wash", kind="wipe", reason="rain", stage="prepare"),
        ("rework.csv", 2, "stage"),
        ("wipe is done where the unit is", "leave it empty"),
    ),
    Case("units", cell("units", 2, must_leave_by="2026-06-15T12:00"), ("units.csv", 2, "available_from"), ("4.5 h", "h short")),
    Case(
        "crew",
        lambda f: edit_all(f, "methods", set_up_min="300"),
        ("site.toml", 11, "plan_until"),
        ("all work together", "h short"),
    ),
]


def test_the_template_has_no_fault(folder: Path) -> None:
    """Every check passes it: what the cases below change is what they are refused for."""
    assert faults_of(folder) == ()


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.check}-{case.place[0]}-{case.place[2]}-{case.says[0]}")
def test_a_folder_that_breaks_one_check_is_refused_for_it(folder: Path, case: Case) -> None:
    """The fault stands where the change was made and says what is wrong; where it can be, it is the only one."""
    case.spoil(folder)
    faults = faults_of(folder)
    here = [fault.text() for fault in faults if place(fault) == case.place]
    assert here, "\n".join(fault.text() for fault in faults)
    assert any(all(words in text for words in case.says) for text in here), "\n".join(here)
    if case.alone:
        assert len(faults) == 1, "\n".join(fault.text() for fault in faults)


def test_every_check_has_a_case() -> None:
    """A check that no folder here breaks might never find anything."""
    assert {case.check for case in CASES} == {check.__name__ for check in (*OF_TABLES, *OF_SHOP)}


def test_bare_steel_without_a_primer_is_allowed(folder: Path) -> None:
    """A system may do without one: that is the planner's choice."""
    drop(folder, "coating_systems", 2)
    assert faults_of(folder) == ()


def test_an_order_may_be_late_before_the_plan_begins(folder: Path) -> None:
    """Overdue work is what a planner has to deal with."""
    edit(folder, "orders", 2, due_at="2026-05-01T12:00")
    assert faults_of(folder) == ()


def test_five_faults_in_five_tables_are_found_in_one_pass(folder: Path) -> None:
    """None hides another: bad cells, an unknown id, a skill that nobody has, a unit that fits no bay, weather with holes."""
    edit(folder, "lots", 2, expires_on="2026-02-30")
    edit(folder, "surfaces", 5, system_id="S7")
    edit(folder, "crew", 4, skills="sprayer attendant", respirator_h="x")
    edit(folder, "crew", 6, skills="driver attendant")
    edit(folder, "units", 7, length_m="12", name="=1")
    edit(folder, "units", 6, height_m="4")
    drop(folder, "weather", 20, 21)
    edit(folder, "weather", 30, wind_m_s="999")
    found = {(fault.file, fault.column) for fault in faults_of(folder)}
    assert found >= {
        ("lots.csv", "expires_on"),
        ("surfaces.csv", "system_id"),
        ("crew.csv", "respirator_h"),
        ("methods.csv", "people"),
        ("units.csv", "name"),
        ("units.csv", "height_m"),
        ("weather.csv", "at"),
        ("weather.csv", "wind_m_s"),
    }


def test_faults_come_by_file_and_row(folder: Path) -> None:
    """Settings first, then the tables in their order, each from the top."""
    set_site(folder, "overtime_cost_per_h", "-1")
    edit(folder, "units", 4, mass_kg="x")
    edit(folder, "units", 2, mass_kg="x")
    edit(folder, "orders", 2, weight="x")
    assert [(f.file, f.row) for f in faults_of(folder)][1:] == [("orders.csv", 2), ("units.csv", 2), ("units.csv", 4)]
