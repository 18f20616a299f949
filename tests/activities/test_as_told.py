"""Tools, warmer slots and cartridges that people were told of are kept where they still go."""

from datetime import timedelta

import pytest
from random_shop import random_shop

from scheduler.activities.as_told import with_names_told
from scheduler.activities.hand_out import Use, hand_out
from scheduler.material.entries import Entry, Passed
from scheduler.material.pack import Lot
from scheduler.pipeline import Plan, plan
from scheduler.record.as_planned import as_planned
from scheduler.record.desk import Desk
from scheduler.record.shop_now import shop_now
from scheduler.replan.choices import Wish, replan
from scheduler.schedule.schedule import Work
from scheduler.search.settings import Settings
from scheduler.shop.calendar import Closure, Shut
from scheduler.shop.shop import Shop


def _entry(film: int, pack: str, begins: str = "opened", passed: tuple[Passed, ...] = ()) -> Entry:
    return Entry(film, "lining", pack, pack.partition("#")[0], begins, 0, 1, 0, 0, passed)  # type: ignore[arg-type]


LOTS = [Lot("A", "lining", 6, 0, 99), Lot("B", "lining", 6, 0, 99)]


def test_a_pack_that_lies_warm_keeps_its_name_and_the_other_takes_the_one_given_up() -> None:
    """Film 1 has #003 and #004 in the warmer and comes first now; what is resumed later or passed over is still the same pack."""
    entries = (
        _entry(1, "A#001"),
        _entry(1, "A#002"),
        _entry(2, "A#003", passed=(Passed("A#002", "kept", 5),)),
        _entry(2, "A#002", "resumed"),
    )
    found = with_names_told(entries, {1: ("A#003", "A#004")}, LOTS)
    assert [entry.pack for entry in found] == ["A#003", "A#004", "A#001", "A#004"]
    assert found[2].passed[0].pack == "A#004"


@pytest.mark.parametrize("name", ["A#007", "B#001", "C#001", "A-old"])
def test_a_name_that_the_lot_of_the_pack_cannot_give_is_left(name: str) -> None:
    """A number beyond the lot, another lot, none that is there."""
    entries = (_entry(1, "A#001"), _entry(2, "A#002"))
    assert with_names_told(entries, {1: (name,)}, LOTS) == entries


def test_names_stay_unique_whatever_was_told() -> None:
    """Two films were told the same name; three exchange in a ring."""
    entries = (_entry(1, "A#001"), _entry(2, "A#002"), _entry(3, "A#003"))
    for wanted in ({1: ("A#003",), 2: ("A#003",)}, {1: ("A#002",), 2: ("A#003",), 3: ("A#001",)}, {1: ("A#006",), 2: ("A#001",)}):
        found = [entry.pack for entry in with_names_told(entries, wanted, LOTS)]
        assert len(set(found)) == 3
        assert found[0] == wanted[1][0]


def test_what_was_told_never_leaves_a_use_without_an_item() -> None:
    """As told, both would have X when Y is shut; the second way round there is a place for each."""
    uses = [Use(1, 0, 4, told="X"), Use(2, 2, 8, told="X")]
    assert hand_out(uses, ["X", "Y"], {"Y": ((5, 9),)}) == {1: "Y", 2: "X"}


def test_a_gun_is_not_kept_for_the_price_of_changing_it_over() -> None:
    """Told G2, on which something else was sprayed last; the other one has its product."""
    uses = [Use(1, 0, 2, "a"), Use(2, 0, 2, "b"), Use(3, 4, 6, "a", "G2", kind_first=True)]
    assert hand_out(uses, ["G1", "G2"])[3] == "G1"


@pytest.fixture(scope="module", params=[3, 5])
def made(request: pytest.FixtureRequest) -> Plan:
    """Plan that people were told."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("scheduler.search.solve.SMALL", 0)
        return plan(random_shop(request.param, 8, days=40), Settings(moves=30))


@pytest.mark.parametrize("hours", [52, 76])
def test_what_stays_where_it_was_is_done_with_the_same_tools_and_from_the_same_slots(made: Plan, hours: int) -> None:
    """Somebody is ill from now on: who stays keeps gun, lift, warmer and slot, and what lies warm keeps its cartridge."""
    now = made.shop.site.plan_from + timedelta(hours=hours)
    events = as_planned(Desk(made.shop, made.schedule, (), now), now)
    shop = _without(shop_now(made.shop, made.schedule, events, now), made.shop.crew[0].person_id)
    told = {work.work_id: work for work in made.schedule.work}
    repaired = replan(shop, made.schedule, Wish(Settings(moves=2))).choices[0].plan
    assert repaired.report.ok
    stays = [(told[w.work_id], w) for w in repaired.schedule.work if not w.done and w.work_id in told]
    stays = [(was, now_is) for was, now_is in stays if was.start == now_is.start]
    assert stays
    for was, now_is in stays:
        assert sorted(was.tools) == sorted(now_is.tools)
        if [d.begins for d in was.draws] == [d.begins for d in now_is.draws]:
            assert _places(was) == _places(now_is)
    warm = {(row.unit_id, row.step) for row in shop.warming}
    for work in repaired.schedule.work:
        if (work.unit_id, work.name) in warm and not work.done and work.start == told[work.work_id].start:
            assert {d.cartridge_id for d in work.draws} == {d.cartridge_id for d in told[work.work_id].draws}


def _places(work: Work) -> list[tuple[str | None, int | None]]:
    return [(draw.warmer_id, draw.slot) for draw in work.draws]


def _without(shop: Shop, person_id: str) -> Shop:
    begin = shop.site.plan_from
    ill = Closure(what=Shut.PERSON, which=person_id, closed_from=begin, closed_until=begin + timedelta(days=1), reason="ill")
    return shop.model_copy(update={"closures": (*shop.closures, ill)})
