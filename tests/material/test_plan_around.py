"""A lot that has expired and a pack that has lapsed: the plan goes around both, and a schedule that names them is refused."""

from datetime import timedelta

import pytest
from check.tiny import put
from random_shop import random_shop

from scheduler.check import check_schedule
from scheduler.pipeline import Plan, plan
from scheduler.schedule.schedule import Draw
from scheduler.search.settings import Settings
from scheduler.shop.shop import Shop


@pytest.fixture(scope="module")
def planned() -> Plan:
    """Two random units; beside the stock there is a lot that expired yesterday, and a pack that was opened two years ago."""
    shop = random_shop(3, 2)
    lining = next(lot for lot in shop.lots if lot.product_id == "lining")
    today = shop.local(shop.site.plan_from).date()
    gone = lining.model_copy(update={"lot_id": "OLD", "expires_on": today - timedelta(days=1), "packs": 50})
    lapsed = {"pack_id": "L-a", "lot_id": lining.lot_id, "opened_on": today - timedelta(days=730), "remaining_ml": 900}
    fields = {name: getattr(shop, name) for name in Shop.model_fields} | {"lots": (gone, *shop.lots), "opened": (lapsed,)}
    return plan(Shop.model_validate(fields), Settings(seed=1, moves=5, workers=1))


def _draws(made: Plan) -> list[Draw]:
    return [draw for work in made.schedule.work for draw in work.draws]


def test_the_plan_goes_around_them(planned: Plan) -> None:
    """Every coat has its material, none of it from the old lot or the old pack."""
    assert _draws(planned)
    assert not [draw for draw in _draws(planned) if draw.lot_id == "OLD" or draw.cartridge_id == "L-a"]


@pytest.mark.parametrize(
    ("pack", "rule"),
    [
        ({"cartridge_id": "OLD#001", "lot_id": "OLD"}, "cartridge_stock"),
        ({"cartridge_id": "L-a", "begins": "resumed"}, "open_life"),
    ],
)
def test_a_schedule_that_names_them_is_refused_by_the_rule(planned: Plan, pack: dict[str, str], rule: str) -> None:
    """The first cartridge of a coat is changed by hand for the expired or the lapsed one."""
    work = next(w for w in planned.schedule.work if w.draws and w.product_id == "lining")
    draws = (work.draws[0].model_copy(update=pack), *work.draws[1:])
    report = check_schedule(planned.shop, put(planned.schedule, work.work_id, draws=draws))
    assert any(breach.rule == rule and pack["cartridge_id"] in breach.says for breach in report.breaches)
