"""A network of some of the units: alone in the shop, or with the others fixed where they were placed."""

from collections.abc import Collection
from dataclasses import replace

from scheduler.activities.network import Activity, Due, Lag, Network, Path, Stay


def subset(net: Network, units: Collection[str]) -> Network:
    """Cut a network down to some of its units, which then have the shop to themselves.

    Activities keep their order; orders whose units are all left out have no members and are never late.
    """
    kept = [i for i, a in enumerate(net.activities) if a.unit in units]
    number = {old: new for new, old in enumerate(kept)}
    stays = [k for k, stay in enumerate(net.stays) if stay.unit in units]
    stay_number = {old: new for new, old in enumerate(stays)}
    return replace(
        net,
        activities=tuple(_activity(net.activities[i], stay_number) for i in kept),
        paths=tuple(_path(p, number, stay_number) for p in net.paths if p.unit in units),
        stays=tuple(_stay(net.stays[k], number) for k in stays),
        lags=tuple(_lag(lag, number) for lag in net.lags if lag.first in number and lag.then in number),
        dues=tuple(_due(due, number) for due in net.dues),
    )


def _activity(activity: Activity, stay_number: dict[int, int]) -> Activity:
    return replace(activity, stay=stay_number.get(activity.stay, -1))


def _path(path: Path, number: dict[int, int], stay_number: dict[int, int]) -> Path:
    stays = tuple(stay_number[k] for k in path.stays)
    return replace(path, first=number[path.first], last=number[path.last], stays=stays)


def _stay(stay: Stay, number: dict[int, int]) -> Stay:
    return replace(stay, first=number[stay.first], last=number[stay.last])


def _lag(lag: Lag, number: dict[int, int]) -> Lag:
    return replace(lag, first=number[lag.first], then=number[lag.then])


def _due(due: Due, number: dict[int, int]) -> Due:
    return replace(due, members=tuple(number[i] for i in due.members if i in number))
