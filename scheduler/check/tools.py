"""Tools of the work: which pieces it names, and how many of a kind are in use at once."""

from collections import defaultdict
from collections.abc import Iterable, Iterator

from scheduler.check.facts import Facts
from scheduler.check.jobs import Job, piece_of
from scheduler.check.sweep import Claim, Overload, overloads
from scheduler.shop.calendar import Shut
from scheduler.shop.resources import Equipment, Kind

Piece = tuple[str, int]


def pieces(facts: Facts, job: Job, kind: Kind) -> list[tuple[Equipment, Piece]]:
    """Pieces of a kind that a job names, each with its row; pieces that the shop does not have are left out."""
    named = [piece_of(tool) for tool in job.work.tools]
    rows = [(facts.equipment_by_id.get(piece[0]), piece) for piece in named]
    return [(row, piece) for row, piece in rows if row and row.kind is kind and 1 <= piece[1] <= row.count]


def unknown_tools(facts: Facts, job: Job) -> list[str]:
    """Tools that a job names and the shop does not have, trucks apart: no such row, or not so many of it."""
    named = [(tool, *piece_of(tool)) for tool in job.work.tools]
    rows = [(tool, facts.equipment_by_id.get(row_id), number) for tool, row_id, number in named]
    return [tool for tool, row, number in rows if row is None or (row.kind is not Kind.TRUCK and not 1 <= number <= row.count)]


def missing_pieces(facts: Facts, job: Job, kind: Kind) -> list[str]:
    """Tools that a job names with a number that their row, of this kind, does not have."""
    named = [(tool, *piece_of(tool)) for tool in job.work.tools]
    rows = [(tool, facts.equipment_by_id.get(row_id), number) for tool, row_id, number in named]
    return [tool for tool, row, number in rows if row and row.kind is kind and not 1 <= number <= row.count]


def held(facts: Facts, kind: Kind) -> dict[Piece, list[Claim[Job]]]:
    """Claims of jobs, planned and under way, on each piece of a kind that they name."""
    claims: dict[Piece, list[Claim[Job]]] = defaultdict(list)
    for job in facts.holding:
        for _, piece in pieces(facts, job, kind):
            claims[piece].append(Claim(job.start, job.end, 1.0, job))
    return claims


def closures(facts: Facts, rows: Iterable[Equipment], sizes: dict[str, float]) -> Iterator[Claim[Job]]:
    """Yield a claim of nobody for each closure of a row, as large as what the row gives."""
    for row in rows:
        for shut in facts.closed.get((Shut.EQUIPMENT, row.equipment_id), ()):
            yield Claim(shut.start, shut.end, sizes[row.equipment_id], None)


def too_many(facts: Facts, kind: Kind) -> Iterator[tuple[Overload[Job], int]]:
    """Yield times in which the jobs want more of a kind than there is, with what there is when nothing is closed."""
    rows = facts.shop.equipment_of(kind)
    there = sum(row.count for row in rows)
    claims = [
        Claim(span.start, span.end, float(job.method.tools.count(kind.value)), job)
        for job in facts.holding
        if kind.value in job.method.tools
        for span in job.spans
    ]
    shut = closures(facts, rows, {row.equipment_id: float(row.count) for row in rows})
    for overload in overloads([*claims, *shut], float(there)) if claims else ():
        if any(not job.work.done for job in overload.holders):
            yield overload, there
