"""Many shops at once: one after the other, in the processes of this machine, or on several machines."""

from scheduler.many.answer import Answer, End
from scheduler.many.backend import Backend, Serial
from scheduler.many.cluster import Cluster, MissingExtraError
from scheduler.many.plan_many import plan_many
from scheduler.many.processes import Processes

__all__ = ["Answer", "Backend", "Cluster", "End", "MissingExtraError", "Processes", "Serial", "plan_many"]
