"""Published instances as activity networks: a machine is a named worker, a renewable resource a pool."""

import json
import re
from pathlib import Path as File

from scheduler.activities.masks import below
from scheduler.activities.network import Activity, BayClass, Demand, Due, Lag, Network, Path, Pool, Worker
from scheduler.activities.placed import Placed

INSTANCES = File(__file__).parent.parent / "data" / "instances"


def _activity(
    key: str, unit: str, slots: int, horizon: int, crew: tuple[tuple[str, int], ...], demands: tuple[Demand, ...]
) -> Activity:
    starts = {0: below(horizon - slots + 1)}
    return Activity(
        key=key, unit=unit, order="all", name=key, stay=-1, slots=slots, windows={}, starts=starts, crew=crew, demands=demands
    )


def _network(horizon: int, activities: list[Activity], paths: list[Path], **parts: object) -> Network:
    late = tuple(range(horizon + 1))
    due = Due("all", 1, True, tuple(p.last for p in paths), late)
    empty = {
        "stays": (),
        "lags": (),
        "classes": (BayClass("yard", (), len(paths), below(horizon), None),),
        "workers": (),
        "pools": (),
    }
    return Network(
        slots=horizon, day=(0,) * horizon, activities=tuple(activities), paths=tuple(paths), dues=(due,), **(empty | parts)
    )  # type: ignore[arg-type]


def job_shop(name: str) -> tuple[Network, int]:
    """Read a job shop and its published optimum; operations that take no time are left out."""
    row = json.loads((INSTANCES / "job_shops.json").read_text())[name]
    horizon = 2 * _dispatch_makespan(row["durations"], row["machines"])
    activities: list[Activity] = []
    paths: list[Path] = []
    for j, (times, machines) in enumerate(zip(row["durations"], row["machines"], strict=True)):
        first = len(activities)
        for k, (slots, machine) in enumerate(zip(times, machines, strict=True)):
            if not slots:
                continue
            activities.append(_activity(f"J{j}/{k}", f"J{j}", slots, horizon, ((f"machine {machine}", 1),), ()))
        paths.append(Path(f"J{j}", "all", first, len(activities) - 1, (), (), late_pickup=False))
    machines = sorted({m for ms in row["machines"] for m in ms})
    workers = tuple(Worker(f"M{m}", frozenset({f"machine {m}"}), below(horizon), is_person=True) for m in machines)
    return _network(horizon, activities, paths, workers=workers), row["optimum"]


def _dispatch_makespan(durations: list[list[int]], machines: list[list[int]]) -> int:
    """Makespan of a plain list schedule; twice that is room enough for jobs that are inserted whole."""
    job_free, machine_free = [0] * len(durations), dict[int, int]()
    for k in range(max(map(len, durations))):
        for j, times in enumerate(durations):
            if k < len(times):
                end = max(job_free[j], machine_free.get(machines[j][k], 0)) + times[k]
                job_free[j] = machine_free[machines[j][k]] = end
    return max(job_free)


def faults_of(net: Network, placed: Placed) -> list[str]:
    """Faults of a solution of a published instance, slot by slot and apart from search and model."""
    faults = []
    order = [(p.first + k, p.first + k + 1) for p in net.paths for k in range(p.last - p.first)]
    order += [(lag.first, lag.then) for lag in net.lags]
    for before, after in order:
        if placed.start[before] + net.activities[before].slots > placed.start[after]:
            faults.append(f"{net.activities[after].key} starts before {net.activities[before].key} ends")
    busy: dict[tuple[str, int], int] = {}
    for i, activity in enumerate(net.activities):
        skills = [skill for skill, count in activity.crew for _ in range(count)]
        if sorted(skill for _, skill in placed.crew[i]) != sorted(skills):
            faults.append(f"{activity.key} has not the machines that it needs")
        for slot in range(placed.start[i], placed.start[i] + activity.slots):
            for worker, _ in placed.crew[i]:
                busy[net.workers[worker].key, slot] = busy.get((net.workers[worker].key, slot), 0) + 1
            for demand in activity.demands:
                key = net.pools[demand.pool].key, slot
                busy[key] = busy.get(key, 0) + demand.amount
    capacity = {worker.key: 1 for worker in net.workers} | {pool.key: pool.capacity for pool in net.pools}
    faults += [f"{key} is overbooked at {slot}" for (key, slot), used in busy.items() if used > capacity[key]]
    return faults


def project(name: str) -> Network:
    """Read a project with renewable resources (single mode)."""
    text = (INSTANCES / f"{name}.sm").read_text()
    horizon = int(re.search(r"horizon\s*:\s*(\d+)", text).group(1))  # type: ignore[union-attr]
    followers = {row[0]: row[3:] for row in _rows(text, "PRECEDENCE RELATIONS")}
    times = {row[0]: (row[2], row[3:]) for row in _rows(text, "REQUESTS/DURATIONS")}
    capacity = _rows(text, "RESOURCEAVAILABILITIES")[-1]
    real = [job for job in sorted(times) if times[job][0] > 0]
    number = {job: i for i, job in enumerate(real)}
    activities = [
        _activity(f"A{job}", f"A{job}", times[job][0], horizon, (), tuple(Demand(p, n) for p, n in enumerate(times[job][1]) if n))
        for job in real
    ]
    same = tuple(range(horizon + 1))
    arcs = [(a, b) for a in real for b in followers.get(a, []) if b in number]
    lags = tuple(Lag(number[a], number[b], "step_order", {0: same}) for a, b in arcs)
    paths = [Path(a.unit, "all", i, i, (), (), late_pickup=False) for i, a in enumerate(activities)]
    pools = tuple(Pool(f"R{p + 1}", "air_supply", n) for p, n in enumerate(capacity))
    return _network(horizon, activities, paths, lags=lags, pools=pools)


def _rows(text: str, title: str) -> list[list[int]]:
    block = text.split(title, 1)[1].split("****", 1)[0]
    rows = [[int(x) for x in line.split()] for line in block.splitlines() if re.fullmatch(r"[\d\s]+", line.strip() or "x")]
    return [row for row in rows if row]
