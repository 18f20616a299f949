"""Packs opened and purges: ours, the same search without grouping, and dispatch by due date with first fit, on the same shops.

python -m tests.benchmarks.bench_material --sizes S,M,L --seeds 10

*Spent* is packs opened anew plus purges as a share of a pack, the goal ``material``. Dispatch keeps every rule, its packs are
those of a store that takes the first opened one which completes a coat. The bound is that of each product on its own.
"""

import argparse
import time
import tracemalloc
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from multiprocessing import Pool
from statistics import mean
from unittest.mock import patch

from scheduler.activities.build import Built, build_network
from scheduler.activities.ledger_input import begun_of, films_at, lots_of
from scheduler.activities.network import Network
from scheduler.material.best_ledger import best_ledger
from scheduler.material.entries import PPM, Habit
from scheduler.material.ledger import keep_ledger
from scheduler.material.pack import Film
from scheduler.pipeline import RefusedError, checked
from scheduler.search.bound import least_spent
from scheduler.search.settings import Settings
from scheduler.search.solve import solve
from scheduler.search.value import lateness
from scheduler.shop.shop import Shop
from tests.benchmarks.families import SEEDS, family
from tests.benchmarks.methods.dispatch import by_due_date
from tests.benchmarks.table import table

LIMIT_S: Mapping[str, float] = {"S": 4.0, "M": 8.0, "L": 16.0}
VARIANTS = ("few-tight-indoor", "many-loose-indoor", "many-tight-outdoor", "few-loose-outdoor", "many-tight-indoor")
FIRST_FIT = Habit(keep=1_000_000)


@dataclass(frozen=True)
class Figures:
    """One shop: what each way spends in packs, and its weighted days late; ours as the checker measures it."""

    family: str
    seed: int
    bound: float
    ours: float
    without: float
    dispatch: float
    ours_late: float
    without_late: float
    dispatch_late: float


Job = tuple[str, int, float, int | None]


def measure(job: Job) -> Figures:
    """Work out the figures of one shop; with counted moves nothing is left to CP-SAT, and a busy machine changes nothing."""
    name, seed, limit_s, moves = job
    if moves is not None:
        with patch("scheduler.search.solve.SMALL", 0):
            return _measure(name, seed, 3600.0, Settings(seed=seed, time_limit_s=3600.0, moves=moves))
    return _measure(name, seed, limit_s, Settings(seed=seed, time_limit_s=limit_s))


def _measure(name: str, seed: int, limit_s: float, settings: Settings) -> Figures:
    shop = family(name).shop(seed)
    built = build_network(shop)
    net = built.network
    ours = _searched(shop, built, settings)
    with patch("scheduler.search.energy.spent", lambda _net, _start: (0, 0)):
        without = _searched(shop, built, settings)
    found = by_due_date(net, limit_s, seed)
    if found.placed is None:
        raise RuntimeError(f"dispatch found nothing for {name} {seed}")
    start = found.placed.start
    by_hand = keep_ledger(films_at(net, start), net.sheets, lots_of(net), begun_of(net), dict.fromkeys(net.sheets, FIRST_FIT))
    return Figures(
        name,
        seed,
        least_spent(net) / PPM,
        ours["material"],
        without["material"],
        by_hand.spent_ppm(net.sheets) / PPM,
        ours["lateness"],
        without["lateness"],
        float(lateness(net, start)),
    )


def _searched(shop: Shop, built: Built, settings: Settings) -> dict[str, float]:
    outcome = solve(built.network, settings)
    if outcome.placed is None:
        raise RuntimeError(f"no schedule for {shop.site.name}")
    try:
        return checked(shop, built, outcome, outcome.placed, settings).report.goals
    except RefusedError as refused:
        raise RuntimeError(f"{shop.site.name}: {refused}") from None


def jobs(sizes: Sequence[str], seeds: Sequence[int], factor: float, moves: int | None = None) -> Iterator[Job]:
    """Yield shops: every seed has a variant of its own, with large and with small coats."""
    for size in sizes:
        for coats in ("large", "small"):
            for seed in seeds:
                yield f"{size}-{VARIANTS[seed % len(VARIANTS)]}-{coats}", seed, LIMIT_S[size] * factor, moves


def summary(rows: Sequence[Figures]) -> list[str]:
    """Lines of a table by size and coats: means over shops."""
    head = ("size", "coats", "shops", "spent", "less than dispatch %", "less than without grouping %", "above bound %")
    groups: dict[tuple[str, str], list[Figures]] = {}
    for row in rows:
        groups.setdefault((row.family.split("-")[0], row.family.split("-")[-1]), []).append(row)
    return table((*head, "later than without", "days late", "without", "dispatch"), (_means(*g) for g in groups.items()))


def _means(key: tuple[str, str], rows: list[Figures]) -> tuple[object, ...]:
    return (
        *key,
        len(rows),
        round(mean(r.ours for r in rows), 2),
        round(mean(100 * (1 - r.ours / r.dispatch) for r in rows), 2),
        round(mean(100 * (1 - r.ours / r.without) for r in rows), 2),
        round(mean(100 * (r.ours / r.bound - 1) for r in rows), 2),
        sum(r.ours_late > r.without_late for r in rows),
        *(round(mean(late), 2) for late in zip(*((r.ours_late, r.without_late, r.dispatch_late) for r in rows), strict=True)),
    )


def ledger_alone(units: str = "XL") -> tuple[int, float, float]:
    """Films, seconds of processor time and MB that the ledger takes for a fleet that dispatch has placed."""
    net = build_network(family(f"{units}-many-loose-indoor-small").shop(1)).network
    found = by_due_date(net, 600.0, 1)
    if found.placed is None:
        raise RuntimeError("dispatch found nothing")
    films = list(films_at(net, found.placed.start))
    return len(films), *_timed(net, films)


def _timed(net: Network, films: list[Film]) -> tuple[float, float]:
    began = time.process_time()
    best_ledger(films, net.sheets, lots_of(net), begun_of(net))
    took_s = time.process_time() - began
    tracemalloc.start()
    best_ledger(films, net.sheets, lots_of(net), begun_of(net))
    peak_mb = tracemalloc.get_traced_memory()[1] / 2**20
    tracemalloc.stop()
    return took_s, peak_mb


def report(sizes: Sequence[str], seeds: Sequence[int], factor: float, *, moves: int | None = None, detail: bool = False) -> str:
    """Measure, two shops at a time, and write the tables."""
    with Pool(2, maxtasksperchild=4) as pool:
        rows = pool.map(measure, list(jobs(sizes, seeds, factor, moves)), chunksize=1)
    lines = summary(rows)
    if detail:
        names = tuple(Figures.__dataclass_fields__)
        lines += ["", *table(names, (tuple(getattr(r, n) for n in names) for r in rows))]
    return "\n".join(lines)


def test_material() -> None:
    """Print the tables of the smallest shops and of the ledger alone; nothing is asserted of the clock."""
    print("\n" + report(("S",), SEEDS, 0.5))
    films, took_s, peak_mb = ledger_alone()
    print(f"ledger alone, 400 units, {films} films: {took_s:.2f} s, {peak_mb:.1f} MB")


def main() -> None:
    """Read the arguments and print the tables."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.bench_material", description="Material of plans.")
    parser.add_argument("--sizes", default="S,M,L", help="letters with commas between")
    parser.add_argument("--seeds", type=int, default=len(SEEDS), help="how many")
    parser.add_argument("--factor", type=float, default=1.0, help="of the seconds of search")
    parser.add_argument("--moves", type=int, help="counted moves in place of seconds")
    parser.add_argument("--ledger", action="store_true", help="the ledger alone with 400 units as well")
    args = parser.parse_args()
    print(report(args.sizes.split(","), SEEDS[: args.seeds], args.factor, moves=args.moves, detail=True))
    if args.ledger:
        films, took_s, peak_mb = ledger_alone()
        print(f"ledger alone, 400 units, {films} films: {took_s:.2f} s, {peak_mb:.1f} MB")


if __name__ == "__main__":
    main()
