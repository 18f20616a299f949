"""Whatever is reported, one after the other, on random shops: it is refused or recorded, and the shop can be planned again.

A schedule that the checker refuses, or any error but that there is no schedule, is a fault. The state is a function of what
stands.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import timedelta
from functools import cache
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st
from random_shop import random_shop

from scheduler.pipeline import NoScheduleError, Plan, plan
from scheduler.record import events as e
from scheduler.record.as_planned import as_planned
from scheduler.record.correcting import correction
from scheduler.record.desk import Desk
from scheduler.record.enter import admit, with_event
from scheduler.record.event_of_report import event_of
from scheduler.record.events_file import events_from
from scheduler.record.report import ObjectionError, Report
from scheduler.record.shop_now import shop_now, shop_told
from scheduler.record.state import state_of
from scheduler.replan.choices import Wish, replan
from scheduler.search.settings import Settings
from scheduler.shop.shop import Shop

QUICK = Settings(moves=3, workers=1)
SEEDS = (1, 2, 3, 4, 5)


@cache
def _planned(seed: int) -> Plan:
    """Three random units, planned."""
    return plan(random_shop(seed, 3), QUICK)


@dataclass(frozen=True)
class Told:
    """One thing that somebody may report: what, of which unit or thing, how long after the last one, how much."""

    what: str
    which: int
    later_min: int
    share: int


OFTEN = ("start", "start", "finish", "finish", "finish", "stop", "stop part", "stop ml", "fail", "fail all", "as planned")
SELDOM = ("used", "away", "down", "arrived", "rejected", "reading", "rain", "withdraw", "put right", "loaded")
TOLD = st.builds(
    Told,
    st.sampled_from((*OFTEN, *SELDOM)),
    st.integers(0, 50),
    st.sampled_from([0, 5, 20, 45, 120, 600, 1500, 6000]),
    st.integers(1, 99),
)


def _next_step(desk: Desk, unit_id: str) -> str:
    """First step of a unit that is not finished."""
    done = {row.step for row in desk.shop_now.done if row.unit_id == unit_id and row.ended_at <= desk.now}
    return next((name for name in desk.steps_of(unit_id) if name not in done), "dispatch")


def _last_film(desk: Desk, unit_id: str) -> str:
    done = [row.step for row in desk.shop_now.done if row.unit_id == unit_id]
    films = [step for step in done if step.startswith(("coat", "prime", "touch_up", "texture"))]
    return films[-1] if films else done[-1] if done else "receive"


def _events(desk: Desk, told: Told) -> list[e.AnyEvent]:
    """What a report becomes; nothing where it does not fit by itself."""
    shop, pick, share = desk.shop, told.which, told.share
    unit_id = shop.units[pick % len(shop.units)].unit_id
    step, film = f"{unit_id}/{_next_step(desk, unit_id)}", f"{unit_id}/{_last_film(desk, unit_id)}"
    until = (desk.now + timedelta(minutes=60 + told.share * 20)).isoformat()
    lot = shop.lots[pick % len(shop.lots)].lot_id
    stands = [row.id for row in desk.stands]
    reports: dict[str, Callable[[], Report]] = {
        "start": lambda: Report("started", step),
        "finish": lambda: Report("finished", step),
        "stop": lambda: Report("stopped", step, {"why": "rain"}),
        "stop part": lambda: Report("stopped", step, {"why": "rain", "done": f"{share}%"}),
        "stop ml": lambda: Report("stopped", step, {"why": "rain", "ml": f"{share * 40}"}),
        "fail": lambda: Report("failed", film, {"cause": "blisters", "share": f"{share / 4:g}"}),
        "fail all": lambda: Report("failed", film if pick % 3 else step, {"cause": "runs"}),
        "used": lambda: Report("used", f"{lot}#{1 + pick % 9:03d}", {"ml": f"{share * 5}", "left": "recapped"}),
        "away": lambda: Report("away", shop.crew[pick % len(shop.crew)].person_id, {"until": until}),
        "down": lambda: Report("down", shop.bays[pick % len(shop.bays)].bay_id, {"until": until}),
        "arrived": lambda: Report("arrived", unit_id),
        "rejected": lambda: Report("rejected", lot),
        "reading": lambda: Report("reading", unit_id, {"steel": f"{share / 4:g}"}),
        "rain": lambda: Report("forecast", "", {"from": desk.now.isoformat(), "until": until, "rain": "2"}),
        "loaded": lambda: Report("loaded", step),
    }
    if told.what == "as planned":
        return list(as_planned(desk, desk.now, frozenset({unit_id}) if pick % 2 else frozenset()))
    if told.what in {"withdraw", "put right"}:
        if not stands:
            return []
        said = {} if told.what == "withdraw" else {"at": (desk.now - timedelta(minutes=share)).isoformat()}
        return [correction(desk, stands[-1 - pick % min(3, len(stands))], None, said, withdraw=told.what == "withdraw")]
    return [event_of(desk, reports[told.what]())]


def _told(desk: Desk, rows: list[Told]) -> Desk:
    """The desk once everything that can be has been recorded."""
    for row in rows:
        desk = replace(desk, now=desk.now + timedelta(minutes=row.later_min))
        try:
            events = _events(desk, row)
        except ObjectionError:
            continue
        for event in events:
            entry = admit(desk, event)
            if not entry.known and not entry.objections:
                desk = with_event(desk, event)
    return desk


def _begin(data: st.DataObject) -> Desk:
    """A day or more went as planned, with some units that did not."""
    made = _planned(data.draw(st.sampled_from(SEEDS)))
    works = made.schedule.work
    work = works[data.draw(st.integers(0, len(works) - 1))]
    now = work.start + data.draw(st.sampled_from([0.0, 0.4, 1.0])) * (work.end - work.start)
    desk = Desk(made.shop, made.schedule, (), now)
    besides = frozenset(data.draw(st.sets(st.sampled_from([unit.unit_id for unit in made.shop.units]), max_size=1)))
    return replace(desk, events=tuple(as_planned(desk, now, besides)))


def _may_have_none(ask: Callable[[], list[Plan]]) -> list[Plan]:
    """Plans; where there is no schedule at all it is said which rules clash."""
    try:
        return ask()
    except NoScheduleError as none:
        clash = none.outcome.clash
    assert clash is not None
    assert clash.says
    return []


@settings(max_examples=10, deadline=None)
@given(st.data())
def test_whatever_is_recorded_the_shop_can_be_planned_again(data: st.DataObject) -> None:
    """Recorded, projected, planned afresh or from what people were told, and checked; else the rules that clash are named."""
    desk = _told(_begin(data), data.draw(st.lists(TOLD, max_size=8)))
    state_of(desk)
    shop = shop_now(desk.shop, desk.schedule, desk.events, desk.now)
    afresh = _may_have_none(lambda: [plan(shop, QUICK)])
    frozen = data.draw(st.sampled_from([None, timedelta(hours=20)]))
    wish = Wish(QUICK, frozen_until=desk.now + frozen if frozen and desk.now + frozen < shop.site.plan_until else None)
    again = _may_have_none(lambda: [choice.plan for choice in replan(shop, desk.schedule, wish).choices])
    assert all(found.report.ok for found in (*afresh, *again))
    assert again or not afresh


def _seen(desk: Desk) -> Shop:
    return shop_told(desk.shop, desk.schedule, desk.events, desk.now)


@settings(max_examples=15, deadline=None)
@given(st.data())
def test_the_state_is_a_function_of_what_the_file_holds(data: st.DataObject) -> None:
    """Written and read back; in whatever order reports came in that correct nothing and happened at moments of their own."""
    desk = _told(_begin(data), data.draw(st.lists(TOLD, max_size=8)))
    whole = b"".join(e.ADAPTER.dump_json(event) + b"\n" for event in desk.events)
    assert events_from(whole).events == desk.events
    assert _seen(replace(desk, events=events_from(whole).events)) == _seen(desk)
    plain = [event for event in desk.events if not isinstance(event, e.Correction)]
    if len({event.happened_at for event in plain}) == len(plain) == len(desk.events):
        mixed = data.draw(st.permutations(plain))
        assert _seen(replace(desk, events=tuple(mixed))) == _seen(desk)


@settings(max_examples=15, deadline=None)
@given(st.data())
def test_a_corrected_report_counts_as_if_the_wrong_one_had_never_been_made(data: st.DataObject) -> None:
    """Withdrawn: as before it. Told anew, in its place or behind the withdrawal: as if that had been said at once."""
    desk = _begin(data)
    single = TOLD.filter(lambda row: row.what not in {"withdraw", "put right", "as planned"})
    rows = data.draw(st.lists(single, min_size=1, max_size=6))
    before = _told(desk, rows[:-1])
    after = _told(before, rows[-1:])
    new = after.events[len(before.events) :]
    if not new:
        return
    withdrawn = with_event(after, correction(after, new[0].id, None, {}, withdraw=True))
    never = replace(before, now=after.now)
    assert _seen(withdrawn) == _seen(never)
    instead = new[0].model_copy(update={"note": "as it was"})
    assert _seen(with_event(after, _anew(after, new[0].id, instead))) == _seen(after)
    assert _seen(with_event(withdrawn, _anew(after, withdrawn.events[-1].id, instead))) == _seen(after)


def _anew(desk: Desk, corrects: str, instead: Any) -> e.AnyEvent:
    return e.sealed(e.Correction(corrects=corrects, instead=instead, recorded_at=desk.now, happened_at=desk.now))
