"""CP-SAT at work on the other core while improvement goes on."""

import threading
from dataclasses import dataclass, field

from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.search.prove import Answer, Effort, prove


@dataclass
class Prover:
    """One run of CP-SAT in the background.

    Attributes
    ----------
    bound : int
        Best bound so far.
    answer : Answer or None
        Set when the run is over.
    """

    net: Network
    goal: str
    caps: dict[str, int]
    hint: Placed | None
    effort: Effort
    bound: int = 0
    answer: Answer | None = None
    stop: threading.Event = field(default_factory=threading.Event)
    fault: list[BaseException] = field(default_factory=list)

    def start(self) -> None:
        """Begin."""
        self._thread = threading.Thread(target=self._work, daemon=True)
        self._thread.start()

    def _work(self) -> None:
        try:
            self.answer = prove(self.net, self.goal, self.caps, self.hint, self.effort, self.stop, self._on_bound)
        except BaseException as fault:
            self.fault.append(fault)

    def _on_bound(self, bound: int) -> None:
        self.bound = max(self.bound, bound)

    def done(self) -> bool:
        """Whether the run is over; raises what went wrong in it."""
        if self.fault:
            raise self.fault[0]
        return self.answer is not None

    def end(self) -> None:
        """Stop and wait."""
        self.stop.set()
        self._thread.join()
