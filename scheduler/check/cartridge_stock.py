"""cartridge_stock: no more of a product is sprayed than has arrived and is in date, and enough of it is drawn."""

from collections import defaultdict
from collections.abc import Iterator

from scheduler.check.breach import Breach
from scheduler.check.facts import Facts
from scheduler.check.jobs import Job
from scheduler.check.needed_films import Film
from scheduler.schedule.schedule import Draw

_RULE = "cartridge_stock"
_SAME_ML = 0.5
_NOISE = 1e-6


def check(facts: Facts) -> Iterator[Breach]:
    """Yield draws that do not suit the step or the lot, and lots that are drawn beyond what they hold."""
    drawn: dict[str, list[tuple[Job, int]]] = defaultdict(list)
    for job in facts.planned:
        if job.need.film:
            yield from _volume(facts, job, job.need.film)
        for draw in job.work.draws:
            yield from _draw(facts, job, draw)
            if draw.source == "lot":
                drawn[draw.source_id].append((job, draw.packs))
    for lot_id, takers in drawn.items():
        lot, taken, jobs = facts.lot_by_id.get(lot_id), sum(packs for _, packs in takers), [job for job, _ in takers]
        if lot is not None and taken > lot.packs:
            short_ml = (taken - lot.packs) * facts.shop.product_by_id[lot.product_id].usable_ml
            says = f"{taken} packs are drawn from lot {lot_id}, it has {lot.packs}"
            yield facts.breach(_RULE, jobs, jobs[-1].start, short_ml, says)


def _volume(facts: Facts, job: Job, film: Film) -> Iterator[Breach]:
    """Yield figures of a film step that do not go together: millilitres needed, packs and draws."""
    where, work = f"{job.label} on {facts.when(job.start)}", job.work
    off_ml = work.volume_ml - film.volume_ml
    if abs(off_ml) > max(_SAME_ML, _NOISE * film.volume_ml):
        says = f"{where} states {work.volume_ml:.0f} mL, its surfaces need {film.volume_ml:.0f} mL"
        yield facts.breach(_RULE, (job,), job.start, abs(off_ml), says)
    packs = sum(draw.packs for draw in work.draws)
    if packs != work.packs:
        says = f"{where} draws {packs} packs, it states {work.packs}"
        yield facts.breach(_RULE, (job,), job.start, None, says)
    drawn_ml, last_ml = _drawn_ml(facts, job), film.product.usable_ml
    if drawn_ml < film.volume_ml - _NOISE * last_ml:
        says = f"{where} draws {drawn_ml:.0f} mL, it needs {film.volume_ml:.0f} mL"
        yield facts.breach(_RULE, (job,), job.start, film.volume_ml - drawn_ml, says)
    elif drawn_ml - last_ml >= film.volume_ml - _NOISE * last_ml and any(draw.source == "lot" for draw in work.draws):
        says = f"{where} draws {drawn_ml:.0f} mL, at least a whole pack more than the {film.volume_ml:.0f} mL that it needs"
        yield facts.breach(_RULE, (job,), job.start, drawn_ml - film.volume_ml, says)


def _drawn_ml(facts: Facts, job: Job) -> float:
    film = job.need.film
    if film is None:
        return 0.0
    whole = sum(draw.packs for draw in job.work.draws if draw.source == "lot") * film.product.usable_ml
    begun = [facts.opened_by_id.get(draw.source_id) for draw in job.work.draws if draw.source == "opened"]
    lost_ml = film.product.recap_purge_ml + film.product.end_heel_ml
    return whole + sum(max(pack.remaining_ml - lost_ml, 0.0) for pack in begun if pack)


def _draw(facts: Facts, job: Job, draw: Draw) -> Iterator[Breach]:
    """Yield draws from a lot or pack that is not there, is of another product or is not in date."""
    pack = facts.opened_by_id.get(draw.source_id)
    lot_id = draw.source_id if draw.source == "lot" else pack.lot_id if pack else ""
    lot, where = facts.lot_by_id.get(lot_id), f"{job.label} on {facts.when(job.start)}"
    product_id = job.need.film.product.product_id if job.need.film else None
    if lot is None:
        says = f"{where} draws from {draw.source_id}, which is not in stock"
        yield facts.breach(_RULE, (job,), job.start, None, says)
    elif lot.product_id != product_id:
        says = f"{where} draws {lot.product_id} from {draw.source_id}, it needs {product_id or 'nothing'}"
        yield facts.breach(_RULE, (job,), job.start, None, says)
    elif draw.source == "lot" and not lot.arrives_on <= facts.local(job.start).date():
        says = f"{where} draws from lot {lot_id}, which arrives on {lot.arrives_on:%d %b}"
        yield facts.breach(_RULE, (job,), job.start, None, says)
    elif draw.source == "lot" and facts.local(job.end).date() > lot.expires_on:
        says = f"{where} draws from lot {lot_id}, which expires on {lot.expires_on:%d %b}"
        yield facts.breach(_RULE, (job,), job.end, None, says)
