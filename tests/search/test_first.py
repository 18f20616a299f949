"""Orders of insertion: each holds every unit once, what is on the site comes first, the urgent before the rest."""

from datetime import timedelta
from random import Random

from random_shop import random_shop
from tiny_shop import MONDAY, tiny_shop

from scheduler.activities.build import build_network
from scheduler.search.first import Urgency, orders, starts


def test_every_order_holds_every_unit_once() -> None:
    """Orders for a first solution and orders from which improvement may begin."""
    net = build_network(random_shop(3, 9)).network
    rows = [*orders(net, Random(1)), *starts(net)]
    assert len(rows) == 2 + 20 + 5
    assert all(sorted(p.first for p in row) == [p.first for p in net.paths] for row in rows)


def test_units_come_by_due_date_and_by_work() -> None:
    """The first two orders; among units due at once the heavier comes first."""
    net = build_network(random_shop(3, 9)).network
    urgency = Urgency(net)
    by_due, by_work, *_ = orders(net, Random(1))
    due = [(urgency.late_from(p), -urgency.weight(p)) for p in by_due]
    assert due == sorted(due)
    work = [urgency.work[p.unit] for p in by_work]
    assert work == sorted(work, reverse=True)


def test_what_is_on_the_site_comes_first() -> None:
    """U2 was received before the plan; every order begins with it."""
    done = [{"unit_id": "U2", "step": "receive", "started_at": MONDAY, "ended_at": MONDAY}]
    net = build_network(tiny_shop(done=done)).network
    assert all(row[0].unit == "U2" for row in (*orders(net, Random(1)), *starts(net)))


def test_what_is_fixed_comes_before_what_can_give_way() -> None:
    """A step of U2 is pinned: every first solution is begun with U2, whatever is due sooner or more work."""
    pinned = [{"unit_id": "U2", "step": "wash", "start_at": MONDAY + timedelta(hours=4)}]
    net = build_network(tiny_shop(pinned=pinned)).network
    assert all(row[0].unit == "U2" for row in orders(net, Random(1)))
