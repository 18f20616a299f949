"""The independent check: every rule in real datetimes, goals recomputed, no planner and no solver."""

from scheduler.check.breach import Breach, CheckReport
from scheduler.check.check import check_schedule

__all__ = ["Breach", "CheckReport", "check_schedule"]
