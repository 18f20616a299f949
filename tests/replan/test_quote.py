"""Dates for units that nobody has ordered yet: they hold when the order comes, and a day less would not."""

from datetime import timedelta
from itertools import pairwise
from pathlib import Path

import pytest

from scheduler.activities.build import build_network
from scheduler.pipeline import Plan, plan
from scheduler.record.events import Away, Started, sealed
from scheduler.record.events_file import add_lines
from scheduler.replan.binding import earliest_end, what_binds
from scheduler.replan.choices import Wish, replan
from scheduler.replan.extend import with_parts
from scheduler.replan.make_room import make_room
from scheduler.replan.quote_free import into_free
from scheduler.replan.quote_moves import with_moves
from scheduler.replan.saved_room import ROOM_FILE, SavedRoom, basis_of, is_fresh, load_room
from scheduler.schedule.store import write_schedule
from scheduler.search.settings import Settings
from scheduler.shop.fixed import Hold
from scheduler.shop.holds import with_holds
from scheduler.shop.write import write_shop
from tests.random_shop import random_shop
from tests.replan.asking import asked, asked_lines, evening_of, least_days_late, placed
from tests.tiny_shop import MONDAY, tiny_shop

ARRIVES = MONDAY + timedelta(days=1)


@pytest.fixture(scope="module")
def made() -> Plan:
    """Eight random units, planned."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("scheduler.search.solve.SMALL", 0)
        return plan(random_shop(3, 8, days=40), Settings(moves=30))


@pytest.mark.parametrize("seed", range(5, 11))
def test_a_quoted_day_is_kept_and_the_day_before_is_not(seed: int) -> None:
    """One more unit with nothing moved, by full solve: due on the quoted day it is on time, due a day earlier it is not."""
    few = plan(random_shop(seed, 2, days=21), Settings(moves=1, workers=1))
    room, parts, _, _ = asked(few, "U1", 1)
    found = into_free(room, parts)
    assert found is not None
    evening = evening_of(few, found.last)
    assert least_days_late(few, {"U1": 1}, None, 1, evening) == 0
    assert least_days_late(few, {"U1": 1}, None, 1, evening - timedelta(days=1)) >= 1


@pytest.mark.parametrize(
    ("seed", "counts", "spare", "arrive_d"),
    [
        (7, {"U1": 1, "U2": 1}, 2, 3),
        (33, {"U1": 2}, 1, 2),
        (37, {"U1": 2}, 1, 0),
        (41, {"U2": 1, "U1": 2}, 2, 5),
        (27, {"U2": 1, "U1": 1}, None, 2),
        (29, {"U2": 2}, None, 4),
    ],
)
def test_so_is_the_day_of_several_lines_with_as_many_away_as_can_be_spared(
    seed: int, counts: dict[str, int], spare: int | None, arrive_d: int
) -> None:
    """Units of two kinds or with a limit of units away, held as an order: by full solve the same, the last one counts."""
    few = plan(random_shop(seed, 2, days=21), Settings(moves=1, workers=1))
    room, parts, _, _ = asked_lines(few, counts, spare, arrive_d)
    found = into_free(room, parts, effort=4)
    assert found is not None
    evening = evening_of(few, found.last)
    assert least_days_late(few, counts, spare, arrive_d, evening) == 0
    assert least_days_late(few, counts, spare, arrive_d, evening - timedelta(days=1)) >= 1


def test_units_with_nothing_moved_pass_the_checker_as_a_real_order(made: Plan) -> None:
    """The quoted units as a held order, everybody else where they were: the repair moves nobody and the date holds."""
    room, parts, _, _ = asked(made, "U1", 2)
    found = into_free(room, parts)
    assert found is not None
    end = build_network(made.shop).grid.end_of(found.last)
    begin = made.shop.site.plan_from
    hold = Hold(
        hold_id="Q", customer="New", like_unit="U1", count=2, arrives_at=begin + timedelta(days=1), due_at=end,
        held_until=begin.date(),
    )  # fmt: skip
    shop = with_holds(made.shop.model_copy(update={"holds": (hold,)}))
    repaired = replan(shop, made.schedule, Wish(Settings(moves=2))).choices[0]
    assert repaired.plan.report.ok
    assert repaired.changes.units == ()
    (date,) = [d for d in repaired.plan.schedule.deliveries if d.order_id == "Q"]
    assert date.days_late == 0


def test_with_moves_nobody_is_later_than_promised(made: Plan) -> None:
    """Each order by itself keeps its day late, the new units come no later than with nothing moved; counted moves repeat."""
    room, parts, net, placed = asked(made, "U1", 3)
    fixed = into_free(room, parts)
    runs = [with_moves(net, placed, parts, fixed, lambda moves: moves / 40) for _ in range(2)]
    assert fixed is not None
    assert runs[0] == runs[1]
    moved = runs[0]
    assert moved is not None
    assert moved.last <= fixed.last
    for due in net.dues:
        was = [due.late[placed.start[i] + net.activities[i].slots] for i in due.members]
        now = [due.late[moved.placed.start[i] + moved.net.activities[i].slots] for i in due.members]
        assert max(now) <= max(was) if due.together else all(n <= w for n, w in zip(now, was, strict=True))


def test_a_customer_that_can_spare_one_unit_gets_them_one_after_the_other(made: Plan) -> None:
    """With one unit away at once no two of the quote overlap, and the last is no earlier than without the limit."""
    free, parts, _, _ = asked(made, "U2", 3)
    tight, one_by_one, _, _ = asked(made, "U2", 3, spare=1)
    loose, found = into_free(free, parts), into_free(tight, one_by_one)
    assert loose is not None
    assert found is not None
    net, start = found.net, found.placed.start
    spans = sorted((start[p.first], start[p.last] + net.activities[p.last].slots) for p in net.paths)
    assert all(a[1] <= b[0] for a, b in pairwise(spans))
    assert found.last >= loose.last


def test_what_binds_is_what_the_relaxed_insertion_says(made: Plan) -> None:
    """Each gain is that of really putting the unit into the eased room, and the first is the largest."""
    room, parts, _, _ = asked(made, "U1", 1)
    now = earliest_end(room, parts[0])
    assert now is not None
    binds = what_binds(room, parts[0], now)
    assert binds
    assert [b.end for b in binds] == sorted(b.end for b in binds)
    for bind in binds:
        (ease,) = bind.eases
        assert earliest_end(ease.room(room), ease.part(parts[0])) == bind.end < now


def _room_of(made: Plan, tmp_path: Path) -> tuple[Path, Path, SavedRoom]:
    """Shop folder and schedule file with its room."""
    folder, file = tmp_path / "shop", tmp_path / "run" / "schedule.json"
    write_shop(made.shop, folder)
    write_schedule(made.schedule, file)
    basis = basis_of(folder, file, made.schedule.plan_from)
    return folder, file, make_room(made.shop, made.schedule, basis, file.parent)


def test_a_room_is_read_back_and_is_stale_once_a_table_changes(made: Plan, tmp_path: Path) -> None:
    """The saved room gives the same answers without the shop; any change of its files makes it count no more."""
    folder, file, saved = _room_of(made, tmp_path)
    found = load_room(folder, file)
    assert found is not None
    assert found.room == saved.room
    assert {unit: found.part(unit) for unit in found.kinds} == {unit: saved.part(unit) for unit in saved.kinds}
    assert found.network() == placed(made)
    (folder / "holds.csv").write_text((folder / "holds.csv").read_text() + "\n", encoding="utf-8")
    assert not is_fresh(folder, file)
    assert load_room(folder, file) is None


def test_a_damaged_room_is_not_taken(made: Plan, tmp_path: Path) -> None:
    """A byte that is gone from the part which is read last."""
    folder, file, _ = _room_of(made, tmp_path)
    data = (file.parent / ROOM_FILE).read_bytes()
    (file.parent / ROOM_FILE).write_bytes(data[:-9] + data[-8:])
    assert load_room(folder, file) is None


def test_a_room_is_stale_once_an_absence_is_announced_and_not_for_a_step_as_planned(made: Plan, tmp_path: Path) -> None:
    """An absence leaves another room: what was worked out before it counts no more. A step that began leaves what was told."""
    folder, file, _ = _room_of(made, tmp_path)
    work, end = min(made.schedule.work, key=lambda w: w.start), made.schedule.plan_until
    moments = {"happened_at": work.end, "recorded_at": work.end}
    add_lines(file.parent, [sealed(Started(unit_id=work.unit_id, step=work.name, **moments))])
    assert is_fresh(folder, file)
    assert load_room(folder, file) is not None
    add_lines(file.parent, [sealed(Away(person_id=made.shop.crew[0].person_id, until=end, **moments))])
    assert not is_fresh(folder, file)
    assert load_room(folder, file) is None


def test_a_hold_is_planned_until_it_lapses() -> None:
    """Units like the one named, with its surfaces, due as quoted; from the day after the last one they are gone."""
    shop = tiny_shop()
    hold = Hold(
        hold_id="Q", customer="New", like_unit="U1", count=2, arrives_at=ARRIVES, due_at=ARRIVES, most_units_away=1,
        held_until=MONDAY.date(),
    )  # fmt: skip
    held = with_holds(shop.model_copy(update={"holds": (hold,)}))
    assert [u.unit_id for u in held.units][-2:] == ["Q.U1.1", "Q.U1.2"]
    assert [s.area_m2 for s in held.surfaces_of["Q.U1.2"]] == [s.area_m2 for s in shop.surfaces_of["U1"]]
    assert held.order_by_id["Q"].most_units_away == 1
    over = hold.model_copy(update={"held_until": MONDAY.date() - timedelta(days=1)})
    assert with_holds(shop.model_copy(update={"holds": (over,)})).orders == shop.orders


def test_parts_that_are_added_find_their_places_in_the_numbering(made: Plan) -> None:
    """Activities, stays and waits of added units refer to each other as in the network they were cut from."""
    _, parts, net, _ = asked(made, "U1", 2)
    wide = with_parts(net, parts)
    path = wide.paths[-1]
    assert [wide.activities[i].unit for i in range(path.first, path.last + 1)] == ["Q1"] * (path.last - path.first + 1)
    assert all(wide.stays[k].unit == "Q1" for k in path.stays)
    mine = [lag for lag in wide.lags if path.first <= lag.then <= path.last]
    assert len(mine) == len(parts[0].lags)
    assert all(path.first <= lag.first <= path.last for lag in mine)
