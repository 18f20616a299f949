"""Bay classes that are alike for the steel: one climate."""

from scheduler.activities.network import Network

Place = tuple[int, ...]
"""Bay classes with one climate, of which a stay takes one; the yard is ``(0,)``."""


def places_of(net: Network, stay: int) -> list[Place]:
    """Classes of a stay by climate; a step in the yard has one place."""
    if stay < 0:
        return [(0,)]
    groups: dict[str, list[int]] = {}
    for c in net.stays[stay].classes:
        groups.setdefault(net.classes[c].climate, []).append(c)
    return [tuple(group) for group in groups.values()]
