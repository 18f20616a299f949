"""Whatever may be reported of a random shop, drawn, and the desk once it has been recorded."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import timedelta
from functools import cache

from hypothesis import strategies as st
from prime_bay import with_prime_bay
from random_shop import random_shop

from scheduler.pipeline import Plan, plan
from scheduler.record import events as e
from scheduler.record.as_planned import as_planned
from scheduler.record.correcting import correction
from scheduler.record.desk import Desk
from scheduler.record.enter import admit
from scheduler.record.event_of_report import event_of
from scheduler.record.report import ObjectionError, Report
from scheduler.search.settings import Settings

QUICK = Settings(moves=3, workers=1)
SEEDS = (1, 2, 3, 4, 5, 6, 7)


@cache
def planned(seed: int) -> Plan:
    """Three random units, planned; the last seeds prime in a bay of its own, half of them in the coat bays too."""
    shop = random_shop(seed, 3)
    return plan(shop if seed < 4 else with_prime_bay(shop, coat_bays_too=seed % 2 == 1), QUICK)


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


def _film(desk: Desk, unit_id: str, pick: int) -> str:
    """The last film that is on a unit, now and then the first."""
    done = [row.step for row in desk.shop_now.done if row.unit_id == unit_id]
    films = [step for step in done if step.startswith(("coat", "prime", "touch_up", "texture"))]
    return films[-1 if pick % 4 else 0] if films else done[-1] if done else "receive"


def _events(desk: Desk, row: Told) -> list[e.AnyEvent]:
    """What a report becomes; nothing where it does not fit by itself."""
    shop, pick, share = desk.shop, row.which, row.share
    unit_id = shop.units[pick % len(shop.units)].unit_id
    step, film = f"{unit_id}/{_next_step(desk, unit_id)}", f"{unit_id}/{_film(desk, unit_id, pick)}"
    until = (desk.now + timedelta(minutes=60 + row.share * 20)).isoformat()
    lot = shop.lots[pick % len(shop.lots)].lot_id
    stands = [event.id for event in desk.stands]
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
    if row.what == "as planned":
        return list(as_planned(desk, desk.now, frozenset({unit_id}) if pick % 2 else frozenset()))
    if row.what in {"withdraw", "put right"}:
        if not stands:
            return []
        said = {} if row.what == "withdraw" else {"at": (desk.now - timedelta(minutes=share)).isoformat()}
        return [correction(desk, stands[-1 - pick % min(3, len(stands))], None, said, withdraw=row.what == "withdraw")]
    return [event_of(desk, reports[row.what]())]


def told(desk: Desk, rows: list[Told]) -> Desk:
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
                desk = desk.with_event(event)
    return desk


def begin(data: st.DataObject) -> Desk:
    """A day or more went as planned, with some units that did not."""
    made = planned(data.draw(st.sampled_from(SEEDS)))
    works = made.schedule.work
    work = works[data.draw(st.integers(0, len(works) - 1))]
    now = work.start + data.draw(st.sampled_from([0.0, 0.4, 1.0])) * (work.end - work.start)
    desk = Desk(made.shop, made.schedule, (), now)
    besides = frozenset(data.draw(st.sets(st.sampled_from([unit.unit_id for unit in made.shop.units]), max_size=1)))
    return replace(desk, events=tuple(as_planned(desk, now, besides)))
