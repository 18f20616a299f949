"""A network without some of its rules, to find out which of them clash."""

from collections.abc import Collection, Mapping
from dataclasses import replace

from scheduler.activities.masks import below
from scheduler.activities.network import Activity, BayClass, Mask, Network, meet


def leave_out(net: Network, rules: Collection[str]) -> Network:
    """Drop windows, waits, needs and capacities of some rules; the order of a unit's steps stays."""
    gone = {p for p, pool in enumerate(net.pools) if pool.rule in rules}
    dropped = frozenset(rules)
    return replace(
        net,
        activities=tuple(_activity(net, activity, dropped, gone) for activity in net.activities),
        lags=tuple(lag for lag in net.lags if lag.rule not in dropped),
        paths=tuple(replace(path, present=tuple(p for p in path.present if p not in gone)) for path in net.paths),
        classes=tuple(_roomy(net, c) if "bay_places" in dropped else c for c in net.classes),
    )


def _activity(net: Network, activity: Activity, rules: frozenset[str], gone: Collection[int]) -> Activity:
    windows = {rule: window for rule, window in activity.windows.items() if rule not in rules}
    return replace(
        activity,
        windows=windows,
        starts=_starts(net, activity, windows),
        crew=tuple((skill, count) for skill, count in activity.crew if not _free_of(net, skill, rules)),
        demands=tuple(d for d in activity.demands if d.pool not in gone),
        respirator=activity.respirator and "respirator_hours" not in rules,
        load=None if "warm_cartridges" in rules else activity.load,
    )


def _starts(net: Network, activity: Activity, windows: Mapping[str, Mapping[int, Mask]]) -> dict[int, Mask]:
    classes = net.stays[activity.stay].classes if activity.stay >= 0 else (0,)
    room = below(net.slots - activity.slots + 1)
    left = dict.fromkeys(classes, room)
    return meet({"": left, **windows})


def _free_of(net: Network, skill: str, rules: frozenset[str]) -> bool:
    """Whether none of the rules that ask for somebody with a skill is left."""
    people = {worker.is_person for worker in net.workers if skill in worker.skills} or {True, False}
    return all(("crew_skills" if person else "lifting") in rules for person in people)


def _roomy(net: Network, group: BayClass) -> BayClass:
    return replace(group, places=len(net.paths) + 1, free=below(net.slots), taken=())
