"""Done steps: what is left to do, and from when and until when."""

from datetime import datetime, timedelta
from typing import Any

import pytest
from tiny_shop import COAT_BAY, METHODS, MONDAY, PREPARE_BAY, SITE, tiny_shop, weather, with_row

from scheduler.activities.build import Built, build_network
from scheduler.activities.masks import bits
from scheduler.activities.realise import realise
from scheduler.search.improve import Improver

TUESDAY = MONDAY + timedelta(days=1)
UP_TO_COAT = (
    ("receive", 0, 0.5, None),
    ("move_in-prepare", 0.5, 0.75, "B1"),
    ("wash", 0.75, 1.25, "B1"),
    ("abrade", 2.25, 3.25, "B1"),
    ("move_out-prepare", 3.25, 3.5, "B1"),
    ("move_in-coat", 3.5, 3.75, "B2"),
    ("wipe", 3.75, 4, "B2"),
    ("prime", 4.25, 4.75, "B2"),
    ("coat-1", 6.75, 7.75, "B2"),
)
"""U1 on Monday, hours after 06:00."""


def _done(last: str, *, shift_h: float = 0.0, bay: bool = True) -> list[dict[str, object]]:
    names = [row[0] for row in UP_TO_COAT]
    return [
        {
            "unit_id": "U1",
            "step": name,
            "started_at": MONDAY + timedelta(hours=a + shift_h),
            "ended_at": MONDAY + timedelta(hours=b + shift_h),
            "bay_id": bay_id if bay else None,
        }
        for name, a, b, bay_id in UP_TO_COAT[: names.index(last) + 1]
    ]


def _built(now: datetime, done: list[dict[str, object]], **tables: Any) -> Built:
    return build_network(tiny_shop(site={**SITE, "plan_from": now}, done=done, **tables))


def _moments(built: Built, key: str, bay_class: int, rule: str = "done_work") -> list[datetime]:
    """Starts that the history leaves, on the site's clock."""
    window = next(a for a in built.network.activities if a.key == key).windows[rule][bay_class]
    return [built.grid.start_of(s).astimezone(built.grid.zone) for s in bits(window)]


def test_only_what_is_left_is_planned() -> None:
    """After the first coat four steps are left: second coat, inspection, move and dispatch, in the bay in which the unit is."""
    net = _built(TUESDAY, _done("coat-1")).network
    path = next(p for p in net.paths if p.unit == "U1")
    assert [a.name for a in net.activities if a.unit == "U1"] == ["coat-2", "inspect", "move_out-coat", "dispatch"]
    assert path.since_start
    assert not path.late_pickup
    assert [net.stays[k].since_start for k in path.stays] == [True]
    assert [net.classes[c].key for k in path.stays for c in net.stays[k].classes] == ["B2"]


def test_a_unit_that_is_done_is_gone() -> None:
    """Nothing is planned for it, and its hand-over counts as it was: on Tuesday at 10:00, due on Monday, a day late."""
    rest = [("coat-2", 24.0, 25.0), ("inspect", 25.0, 25.25), ("move_out-coat", 26.0, 26.25), ("dispatch", 27.0, 28.0)]
    done = _done("coat-1") + [
        {"unit_id": "U1", "step": n, "started_at": MONDAY + timedelta(hours=a), "ended_at": MONDAY + timedelta(hours=b)}
        for n, a, b in rest
    ]
    order = {"order_id": "O1", "customer": "Town yard", "due_at": MONDAY + timedelta(hours=10), "delivery": "singly"}
    net = _built(MONDAY + timedelta(days=2), done, orders=[order]).network
    assert [p.unit for p in net.paths] == ["U2"]
    assert net.dues[0].settled == (1,)


def test_a_fixed_wait_is_counted_from_the_record() -> None:
    """Washed until 07:15 and dry at 08:15; the plan goes on from 08:00, on the grid, so abrading starts at 08:15."""
    built = _built(MONDAY + timedelta(hours=2), _done("wash"))
    assert _moments(built, "U1/abrade", 1)[0] == MONDAY + timedelta(hours=2.25)


def test_a_hold_time_is_counted_from_the_record() -> None:
    """Abraded until 09:15 and held for 8 h: primed by 17:15, and as the day ends at 16:00 the last quarter is at 15:45."""
    built = _built(MONDAY + timedelta(hours=3.5), _done("move_out-prepare"))
    assert _moments(built, "U1/prime", 2)[-1] == MONDAY + timedelta(hours=9.75)


def test_a_film_cures_before_the_plan_in_the_hours_that_are_known() -> None:
    """The first coat ended on Monday at 13:45 and is ready at 17:45: the second may go on first thing on Tuesday."""
    built = _built(TUESDAY, _done("coat-1"))
    assert _moments(built, "U1/coat-2", 2)[0] == TUESDAY


def test_what_is_not_known_cures_nothing_and_shortens_the_window_all_the_same() -> None:
    """The forecast begins with the plan: the 4 h run from 06:00, and the 48 h from Monday 13:45 to Wednesday 13:45."""
    moments = _moments(_built(TUESDAY, _done("coat-1"), weather=_from_tuesday(20.0)), "U1/coat-2", 2)
    assert moments[0] == TUESDAY + timedelta(hours=4)
    assert moments[-1] == TUESDAY + timedelta(days=1, hours=7.75)


def _from_tuesday(air_temp_c: float) -> list[dict[str, object]]:
    return [{**row, "air_temp_c": air_temp_c} for row in weather() if row["at"] >= TUESDAY]  # type: ignore[operator]


def test_a_recoat_maximum_uses_the_temperatures_of_the_plan() -> None:
    """The 48 h are those of 20 °C; from Tuesday at 06:00 on it is 30 °C, where the window lasts 24 h.

    If Monday is known, 16.25 of the 48 h have passed and the other 31.75 h last 15.875 h, past the end of work at 16:00. If it
    is not, the 16.25 h count as at 30 °C, for 32.5 h; the other 15.5 h last 7.75 h, to 13:45.
    """
    bays = [PREPARE_BAY, {**COAT_BAY, "steel_lag_h": 0.0}]
    warm = [{**row, "air_temp_c": 30.0} if row["at"] >= TUESDAY else row for row in weather()]  # type: ignore[operator]
    known, unknown = (_built(TUESDAY, _done("coat-1"), weather=w, bays=bays) for w in (warm, _from_tuesday(30.0)))
    assert _moments(known, "U1/coat-2", 2)[-1] == TUESDAY + timedelta(hours=9.75)
    assert _moments(unknown, "U1/coat-2", 2)[-1] == TUESDAY + timedelta(hours=7.75)


def test_a_film_that_ended_off_the_grid_opens_later_and_closes_earlier() -> None:
    """It ended at 13:52: ready at 17:52, after work, so on Tuesday; 48 h later 13:45 is the last quarter that begins in time."""
    done = _done("coat-1")
    done[-1]["ended_at"] = MONDAY + timedelta(hours=7, minutes=52)
    built = _built(MONDAY, done)
    moments = _moments(built, "U1/coat-2", 2)
    assert moments[0] == TUESDAY
    assert moments[-1] == MONDAY + timedelta(days=2, hours=7.75)


def test_a_film_that_ended_at_night_is_not_counted_from_the_evening() -> None:
    """It ended on Tuesday at 04:45, when nobody works; the 4 h are up at 08:45, not four hours after the day before."""
    built = _built(MONDAY, _done("coat-1", shift_h=15))
    assert _moments(built, "U1/coat-2", 2)[0] == TUESDAY + timedelta(hours=2.75)


def test_drying_goes_on_from_one_bay_to_the_next() -> None:
    """Where units are carried wet: 2 h after the move out, the only record, before they are brought into the coat bay."""
    methods = with_row(METHODS, "step", "move_out", dry_min=120)
    built = _built(MONDAY + timedelta(hours=3.5), _done("move_out-prepare"), methods=methods)
    assert _moments(built, "U1/move_in-coat", 2)[0] == MONDAY + timedelta(hours=5.5)


def test_nothing_is_planned_before_what_has_happened() -> None:
    """U1 was coated until Monday 13:45, so U2 does not come before that, although the plan begins at 06:00."""
    built = _built(MONDAY, _done("coat-1"))
    assert _moments(built, "U2/receive", 0)[0] == MONDAY + timedelta(hours=7.75)


def test_a_wet_film_keeps_sparks_away_from_its_air() -> None:
    """U1's coat ended at 13:45 and is tack free at 15:45; U2 is not abraded in the same air before that."""
    now, bays = MONDAY + timedelta(hours=8), [{**PREPARE_BAY, "air_space": "spray"}, COAT_BAY]
    apart, shared = _built(now, _done("coat-1")), _built(now, _done("coat-1"), bays=bays)
    assert _moments(apart, "U2/abrade", 1)[0] == now
    assert _moments(shared, "U2/abrade", 1)[0] == MONDAY + timedelta(hours=9.75)


@pytest.mark.parametrize("bay", [True, False])
def test_a_stay_goes_on_from_where_it_began_and_history_is_written_as_recorded(bay: bool) -> None:
    """The stay in the coat bay began on Monday at 09:30; a bay that nobody wrote down is the one in which the unit is."""
    shop = tiny_shop(site={**SITE, "plan_from": TUESDAY}, done=_done("coat-1", bay=bay))
    built = build_network(shop)
    better = Improver(built.network, 1).first()
    assert better is not None
    realised = realise(shop, built, better.placed)
    stay = next(s for s in realised.stays if s.unit_id == "U1")
    assert (stay.stage, stay.bay_id, stay.start) == ("coat", "B2", MONDAY + timedelta(hours=3.5))
    record = next(w for w in realised.work if w.work_id == "U1/coat-1")
    assert (record.done, record.bay_id, record.end) == (True, "B2", MONDAY + timedelta(hours=7.75))
    assert not any(w.done for w in realised.work if w.unit_id == "U2")
