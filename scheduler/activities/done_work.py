"""Steps that are done, as they were recorded."""

from collections.abc import Iterable, Iterator

from scheduler.activities.build import Built
from scheduler.schedule.schedule import Assigned, Span, Stay, Work
from scheduler.shop.shop import Shop


def done_work(shop: Shop, built: Built, stays: Iterable[Stay]) -> Iterator[Work]:
    """Yield the done steps as recorded; a bay that was not recorded is that of the stay, if it still lasts."""
    bay_of = {(stay.unit_id, stay.stage): stay.bay_id for stay in stays}
    for done in shop.done:
        step = next((s for s in built.routes[done.unit_id].steps if s.name == done.step), None)
        if step is None:
            continue
        unit = shop.unit_by_id[done.unit_id]
        yield Work(
            work_id=f"{done.unit_id}/{done.step}",
            unit_id=done.unit_id,
            order_id=unit.order_id,
            step=step.step,
            name=done.step,
            reason=step.reason,
            bay_id=done.bay_id or bay_of.get((done.unit_id, step.stage)),
            spans=(Span(start=done.started_at, end=done.ended_at),),
            people=tuple(Assigned(person_id=p, skill="") for p in done.people),
            tools=done.tools,
            product_id=step.film.product_id if step.film else None,
            area_m2=step.area_m2,
            coat_numbers=step.film.coat_numbers if step.film else (),
            volume_ml=step.film.volume_ml if step.film else 0.0,
            draws=(),
            done=True,
        )
