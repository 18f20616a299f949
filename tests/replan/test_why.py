"""Why a unit ends when it does, and what would help: figures that come from putting it in again."""

from dataclasses import replace
from datetime import timedelta

import pytest

from scheduler.activities.build import build_network
from scheduler.activities.network import Network, Path
from scheduler.activities.placed import Placed
from scheduler.activities.reread import reread
from scheduler.pipeline import Plan, plan
from scheduler.replan.binding import earliest_end, sooner, what_binds_at_all
from scheduler.replan.extend import part_of
from scheduler.replan.relax import eases
from scheduler.replan.room_around import room_around
from scheduler.replan.savings import rank, saving
from scheduler.replan.variants import variants
from scheduler.replan.what_if import what_helps
from scheduler.replan.why import latest_unit, why
from scheduler.search.settings import Settings
from scheduler.shop.shop import Shop
from tests.random_shop import random_shop
from tests.tiny_shop import MONDAY, tiny_shop


@pytest.fixture(scope="module")
def made() -> Plan:
    """Eight random units, planned."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("scheduler.search.solve.SMALL", 0)
        return plan(random_shop(3, 8, days=40), Settings(moves=30))


@pytest.fixture(scope="module")
def placed(made: Plan) -> tuple[Network, Placed]:
    """Its network, and where everything is on it."""
    built = build_network(made.shop)
    return built.network, reread(built, made.schedule).placed


def test_every_gain_is_that_of_a_real_insertion(placed: tuple[Network, Placed]) -> None:
    """For each unit: nothing eased or taken away brings it before the end that it has alone with everything eased away."""
    net, where = placed
    for path in net.paths:
        found = why(net, where, path.unit)
        assert found.alone is not None
        assert found.next_best is not None
        assert found.alone <= found.now
        best = min(found.now, found.next_best)
        assert all(bind.end < best for bind in found.binds)
        for other in found.in_the_way:
            room = room_around(net, where, {path.unit, other.unit})
            assert earliest_end(room, part_of(net, path)) == other.end < best


def test_what_gains_nothing_is_proven_to(placed: tuple[Network, Placed]) -> None:
    """By full solve of the unit among the others: neither as it is nor with an ease that is not named is it back sooner."""
    net, where = placed
    for path in net.paths[::4]:
        found, room, part = why(net, where, path.unit), room_around(net, where, {path.unit}), part_of(net, path)
        best = min(found.now, found.next_best or found.now)
        assert found.proven
        assert sooner(room, part, best) == (None, True)
        named = {(ease.rule, ease.what) for bind in found.binds for ease in bind.eases}
        for ease in eases(room, part):
            end, ended = sooner(ease.room(room), ease.part(part), best)
            assert ended
            assert (end is not None) == ((ease.rule, ease.what) in named)


def test_where_nothing_alone_or_in_pairs_helps_a_set_is_named_of_which_each_is_needed(placed: tuple[Network, Placed]) -> None:
    """All eases together bring any unit forward; what is left of them does too, and loses it with any one of them less."""
    net, where = placed
    path = max(net.paths, key=lambda p: where.start[p.last])
    room, part = room_around(net, where, {path.unit}), part_of(net, path)
    now = earliest_end(room, part)
    assert now is not None
    wish = now - 40
    (bind,) = what_binds_at_all(room, part, wish)
    assert bind.end <= wish
    for left_out in bind.eases:
        eased, changed = room, part
        for ease in bind.eases:
            if ease is not left_out:
                eased, changed = ease.room(eased), ease.part(changed)
        assert earliest_end(eased, changed, None, wish) is None
    assert what_binds_at_all(room, part, 1) == ()


def test_a_unit_that_comes_late_is_held_up_by_its_arrival() -> None:
    """One unit alone that arrives on the fourth day: its release is named, and gains about the days until it arrives."""
    shop = tiny_shop()
    late = shop.units[0].model_copy(update={"available_from": MONDAY + timedelta(days=3)})
    alone = tiny_shop(units=[late], surfaces=[s for s in shop.surfaces if s.unit_id == "U1"])
    made = plan(alone, Settings(moves=1, workers=1))
    built = build_network(made.shop)
    found = why(built.network, reread(built, made.schedule).placed, "U1")
    first = found.binds[0]
    assert first.eases[0].rule == "release"
    gained = built.grid.end_of(found.now) - built.grid.end_of(first.end)
    assert 2 <= gained.days <= 6
    assert found.in_the_way == ()


def test_a_day_that_is_too_early_even_alone(placed: tuple[Network, Placed]) -> None:
    """A wish for the first slot of all: nothing reaches it, not even two things eased together."""
    net, where = placed
    found = why(net, where, net.paths[0].unit, until=5)
    assert found.reaches == ()
    assert found.pairs == ()
    assert found.alone is not None
    assert found.binds_alone
    assert all(bind.end < found.alone for bind in found.binds_alone)


def test_a_day_that_the_unit_could_have_with_nobody_moved(placed: tuple[Network, Placed]) -> None:
    """A unit that stands later than it has to: for a day that it could have, neither rules nor other units are blamed."""
    net, where = placed
    path = max(net.paths, key=lambda p: where.start[p.last])
    start = list(where.start)
    last = next(s for s in range(net.slots - net.activities[path.last].slots, 0, -1) if _may_start(net, path, s))
    start[path.last] = last
    found = why(net, replace(where, start=tuple(start)), path.unit, until=last)
    assert found.next_best is not None
    assert found.next_best <= last < found.now
    assert (found.pairs, found.in_the_way, found.binds_alone) == ((), (), ())


def _may_start(net: Network, path: Path, slot: int) -> bool:
    return any(mask >> slot & 1 for mask in net.activities[path.last].starts.values())


def test_the_last_unit_stands_for_its_order(placed: tuple[Network, Placed]) -> None:
    """The one whose last step starts last; an order with nothing left has none."""
    net, where = placed
    order = net.paths[0].order
    unit = latest_unit(net, where, order)
    ends = {p.unit: where.start[p.last] for p in net.paths if p.order == order}
    assert unit is not None
    assert ends[unit] == max(ends.values())
    assert latest_unit(net, where, "nobody") is None


def test_what_helps_is_ranked_beside_the_shop_as_it_is(made: Plan) -> None:
    """Every variant is a valid shop that differs; the first row is the shop as it is, the others go from most to least saved."""
    shops = [variant.shop for variant in variants(made.shop)]
    assert len({variant.name for variant in variants(made.shop)}) == len(shops) >= 6
    assert all(shop != made.shop for shop in shops)
    said: list[str] = []
    rows = what_helps(made.shop, made.schedule, 3, 1, said.append)
    assert rows[0].name == "as it is"
    assert len(rows) == len(shops) + 1 == len(said) + 1
    plain, *others = rows
    assert plain.best is not None
    assert all(rank(row.best) <= rank(plain.best) for row in others)
    assert all(row.best.unit_days > 0 for row in rows if row.best)
    assert all(len(row.runs) == 2 for row in rows if row.best)
    gains = [found for row in others if (found := saving(plain, row)) is not None]
    assert [found.at_least for found in gains] == sorted((found.at_least for found in gains), reverse=True)
    assert all(found.at_least <= found.saved[0] <= found.at_most for found in gains)
    again = what_helps(made.shop, made.schedule, 3, 1, said.append)
    assert [(row.name, row.runs, row.floor) for row in again] == [(row.name, row.runs, row.floor) for row in rows]


def test_the_dry_bay_is_one_for_coats() -> None:
    """Of two bays outdoors the roof goes over the one in which coats wait for the weather."""
    shop = tiny_shop()
    bays = tuple(bay.model_copy(update={"outdoor": True}) for bay in shop.bays)
    outdoors = Shop.model_validate({name: getattr(shop, name) for name in Shop.model_fields} | {"bays": bays})
    dry = next(variant for variant in variants(outdoors) if variant.name == "dry bay").shop
    assert ["coat" in bay.stages for bay in dry.bays if not bay.outdoor] == [True]


def test_variants_leave_what_was_promised_alone(made: Plan) -> None:
    """Orders and units are what they were: only what the shop has is more."""
    for variant in variants(made.shop):
        assert (variant.shop.orders, variant.shop.units) == (made.shop.orders, made.shop.units)
