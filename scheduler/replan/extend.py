"""Units that a network does not have: taken from one network, renamed, and added to another."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from scheduler.activities.masks import below, within
from scheduler.activities.network import Activity, Lag, Network, Path, Stay

RELEASE = "release"


@dataclass(frozen=True, slots=True)
class UnitPart:
    """What one unit adds to a network; its activities and stays are numbered from 0, pools are those of the network."""

    activities: tuple[Activity, ...]
    stays: tuple[Stay, ...]
    lags: tuple[Lag, ...]
    path: Path

    def named(self, unit: str, order: str, present: tuple[int, ...]) -> "UnitPart":
        """Return the same for another unit."""
        activities = tuple(replace(a, key=f"{unit}/{a.name}", unit=unit, order=order) for a in self.activities)
        stays = tuple(replace(stay, unit=unit) for stay in self.stays)
        return UnitPart(activities, stays, self.lags, replace(self.path, unit=unit, order=order, present=present))

    def released(self, slot: int) -> "UnitPart":
        """Return the same with a first step that starts at ``slot`` or later."""
        first, later = self.activities[0], ~below(slot)
        windows = {**first.windows, RELEASE: {c: mask & later for c, mask in first.windows[RELEASE].items()}}
        return replace(
            self, activities=(replace(first, windows=windows, starts=within(first.starts, later)), *self.activities[1:])
        )


def part_of(net: Network, path: Path) -> UnitPart:
    """Cut one unit out of a network."""
    stays = {k: n for n, k in enumerate(path.stays)}
    inside = range(path.first, path.last + 1)
    activities = tuple(replace(net.activities[i], stay=stays.get(net.activities[i].stay, -1)) for i in inside)
    rows = tuple(_shifted_stay(net.stays[k], -path.first) for k in path.stays)
    lags = tuple(_shifted_lag(lag, -path.first) for lag in net.lags if lag.then in inside and lag.first in inside)
    return UnitPart(activities, rows, lags, _shifted_path(path, -path.first, tuple(stays.values())))


def with_parts(net: Network, parts: Iterable[UnitPart]) -> Network:
    """Add units to a network; due dates are left as they are."""
    activities, stays, lags, paths = list(net.activities), list(net.stays), list(net.lags), list(net.paths)
    for part in parts:
        first, first_stay = len(activities), len(stays)
        activities += [replace(a, stay=a.stay + first_stay if a.stay >= 0 else -1) for a in part.activities]
        stays += [_shifted_stay(stay, first) for stay in part.stays]
        lags += [_shifted_lag(lag, first) for lag in part.lags]
        paths.append(_shifted_path(part.path, first, tuple(k + first_stay for k in part.path.stays)))
    return replace(net, activities=tuple(activities), stays=tuple(stays), lags=tuple(lags), paths=tuple(paths))


def _shifted_stay(stay: Stay, by: int) -> Stay:
    return replace(stay, first=stay.first + by, last=stay.last + by)


def _shifted_lag(lag: Lag, by: int) -> Lag:
    return replace(lag, first=lag.first + by, then=lag.then + by)


def _shifted_path(path: Path, by: int, stays: tuple[int, ...]) -> Path:
    return replace(path, first=path.first + by, last=path.last + by, stays=stays)
