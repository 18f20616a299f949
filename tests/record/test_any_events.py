"""Whatever is reported, one after the other, on random shops: it is refused or recorded, and the shop can be planned again.

A schedule that the checker refuses, or any error but that there is no schedule, is a fault. The state is a function of what
stands.
"""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.pipeline import NoScheduleError, Plan, plan
from scheduler.record import events as e
from scheduler.record.correcting import correction
from scheduler.record.desk import Desk
from scheduler.record.events_file import events_from
from scheduler.record.shop_now import shop_now, shop_told
from scheduler.record.state import state_of
from scheduler.replan.choices import Wish, replan
from scheduler.shop.shop import Shop
from tests.record.any_events import QUICK, TOLD, begin, told


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
    desk = told(begin(data), data.draw(st.lists(TOLD, max_size=8)))
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
    desk = told(begin(data), data.draw(st.lists(TOLD, max_size=8)))
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
    desk = begin(data)
    single = TOLD.filter(lambda row: row.what not in {"withdraw", "put right", "as planned"})
    rows = data.draw(st.lists(single, min_size=1, max_size=6))
    before = told(desk, rows[:-1])
    after = told(before, rows[-1:])
    new = after.events[len(before.events) :]
    if not new:
        return
    withdrawn = after.with_event(correction(after, new[0].id, None, {}, withdraw=True))
    never = replace(before, now=after.now)
    assert _seen(withdrawn) == _seen(never)
    instead = new[0].model_copy(update={"note": "as it was"})
    assert _seen(after.with_event(_anew(after, new[0].id, instead))) == _seen(after)
    assert _seen(withdrawn.with_event(_anew(after, withdrawn.events[-1].id, instead))) == _seen(after)


def _anew(desk: Desk, corrects: str, instead: Any) -> e.AnyEvent:
    return e.sealed(e.Correction(corrects=corrects, instead=instead, recorded_at=desk.now, happened_at=desk.now))
