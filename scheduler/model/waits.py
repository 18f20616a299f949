"""Waits between steps, for the rules that are one."""

from scheduler.model.curves import at_least, at_most
from scheduler.model.variables import Variables


def add_waits(v: Variables, rule: str) -> None:
    """Add every wait of a rule, under the class of the stay whose climate counts."""
    for lag in v.net.lags:
        if lag.rule != rule:
            continue
        for c, curve in lag.earliest.items():
            at_least(v, v.start[lag.then], curve, lag.first, v.where(lag.first, c))
        for c, curve in lag.latest.items():
            at_most(v, v.start[lag.then], curve, lag.first, v.where(lag.first, c))
