"""Rules of when and where alone narrow the starts before there are variables."""

from scheduler.model.variables import Variables


def narrow(v: Variables, rule: str) -> None:
    """Keep the starts that a window rule leaves."""
    for allowed, activity in zip(v.allowed, v.net.activities, strict=True):
        window = activity.windows.get(rule)
        if window is None:
            continue
        for c in list(allowed):
            allowed[c] &= window.get(c, 0)
