"""cartridge_stock: every film comes from packs that are there, in date and hold what is drawn, one use at a time."""

from collections.abc import Iterator

from scheduler.check.breach import Breach
from scheduler.check.facts import Facts
from scheduler.check.jobs import Job
from scheduler.check.needed_films import Film
from scheduler.check.pack_stock import all_uses, content_ml, least_purge_ml, lot_of, standing
from scheduler.check.packs import PackUse
from scheduler.shop.day_words import day_text

_RULE = "cartridge_stock"
_SAME_ML = 0.5
_NOISE = 1e-6


def check(facts: Facts) -> Iterator[Breach]:
    """Yield films that draw too little or too much, and draws that the stock or the pack cannot give."""
    for job in facts.planned:
        if job.need.film:
            yield from _volume(facts, job, job.need.film)
        elif job.work.draws:
            says = f"{job.label} on {facts.when(job.start)} draws {job.work.draws[0].cartridge_id}, it needs nothing"
            yield facts.breach(_RULE, (job,), job.start, None, says)
    for use in all_uses(facts):
        yield from _source(facts, use)
        yield from _content(facts, use)
        yield from _order(facts, use)


def _volume(facts: Facts, job: Job, film: Film) -> Iterator[Breach]:
    """Yield figures of a film step that do not go together: millilitres needed, stated and drawn."""
    where, work = f"{job.label} on {facts.when(job.start)}", job.work
    same_ml = max(_SAME_ML, _NOISE * film.volume_ml)
    off_ml = abs(work.volume_ml - film.volume_ml)
    if off_ml > same_ml:
        says = f"{where} states {work.volume_ml:.0f} mL, its surfaces need {film.volume_ml:.0f} mL"
        yield facts.breach(_RULE, (job,), job.start, off_ml, says)
    drawn_ml = sum(draw.sprayed_ml for draw in work.draws)
    if abs(drawn_ml - film.volume_ml) > same_ml:
        says = f"{where} draws {drawn_ml:.0f} mL, it needs {film.volume_ml:.0f} mL"
        yield facts.breach(_RULE, (job,), job.start, abs(drawn_ml - film.volume_ml), says)


def _source(facts: Facts, use: PackUse) -> Iterator[Breach]:
    """Yield draws from a pack that is not there, is of another product or is not in date."""
    job, draw, film = use.job, use.draw, use.job.need.film
    lot, where = lot_of(facts, draw), f"{job.label} on {facts.when(job.start)}"
    needed = film.product.product_id if film else None
    if lot is None:
        says = f"{where} draws from {draw.cartridge_id} of lot {draw.lot_id}, which is not in stock"
        yield facts.breach(_RULE, (job,), job.start, None, says)
        return
    if lot.product_id != needed:
        says = f"{where} draws {lot.product_id} from {draw.cartridge_id}, it needs {needed}"
        yield facts.breach(_RULE, (job,), job.start, None, says)
    first = min(facts.utc(draw.loaded_at), job.start) if draw.loaded_at else job.start
    if facts.local(first).date() < lot.arrives_on:
        says = f"{where} takes {draw.cartridge_id} on {facts.when(first)}, its lot arrives on {day_text(lot.arrives_on)}"
        yield facts.breach(_RULE, (job,), first, None, says)
    if facts.local(job.end).date() > lot.expires_on:
        says = f"{where} draws from {draw.cartridge_id}, whose lot expires on {day_text(lot.expires_on)}"
        yield facts.breach(_RULE, (job,), job.end, None, says)


def _content(facts: Facts, use: PackUse) -> Iterator[Breach]:
    """Yield draws beyond what a pack holds, and contents that do not follow from the use before."""
    job, draw, film = use.job, use.draw, use.job.need.film
    if film is None:
        return
    product = film.product
    if draw.purge_ml < least_purge_ml(use, product) - _SAME_ML:
        asked_ml = least_purge_ml(use, product)
        says = f"{use.where} wastes {draw.purge_ml:.0f} mL at its start, a pack that is {draw.begins} wastes {asked_ml:.0f} mL"
        yield facts.breach(_RULE, (job,), job.start, asked_ml - draw.purge_ml, says)
    before_ml = content_ml(facts, use, product)
    gone_ml = draw.purge_ml + draw.sprayed_ml
    if gone_ml > before_ml - product.end_heel_ml + _SAME_ML:
        heel = f"{product.end_heel_ml:.0f} mL cannot be sprayed"
        says = f"{use.where} takes {gone_ml:.0f} mL, it holds {before_ml:.0f} mL, of which {heel}"
        yield facts.breach(_RULE, (job,), job.start, gone_ml - before_ml + product.end_heel_ml, says)
    elif abs(before_ml - gone_ml - draw.left_ml) > _SAME_ML:
        after = f"{before_ml:.0f} mL less {gone_ml:.0f} mL are {before_ml - gone_ml:.0f} mL"
        says = f"{use.where} leaves {draw.left_ml:.0f} mL, {after}"
        yield facts.breach(_RULE, (job,), job.start, abs(before_ml - gone_ml - draw.left_ml), says)


def _order(facts: Facts, use: PackUse) -> Iterator[Breach]:
    """Yield packs in two places at once, opened twice, or resumed before they were opened."""
    job, draw, before = use.job, use.draw, use.before
    begun = before is not None or standing(facts, use) is not None
    if begun == (draw.begins == "opened"):
        says = f"{use.where} is {draw.begins} on {facts.when(job.start)}, it {'was opened before' if begun else 'is a new pack'}"
        yield facts.breach(_RULE, (job,), job.start, None, says)
    if before is not None and before.job.end > job.start:
        says = f"{draw.cartridge_id} is used by {before.job.label} and {job.label} at once on {facts.when(job.start)}"
        yield facts.breach(_RULE, (before.job, job), job.start, None, says)
