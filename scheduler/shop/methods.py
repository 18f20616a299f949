"""Steps of the work and how each is done in this shop."""

from enum import StrEnum
from typing import Annotated, Final

from pydantic import AfterValidator, Field

from scheduler.shop.fields import CelsiusMaterial, Flag, Hours, Id, Minutes, NotNegative, Positive, Row, Words


class Step(StrEnum):
    """Steps of a unit, in technical order."""

    RECEIVE = "receive"
    MOVE_IN = "move_in"
    WASH = "wash"
    STRIP = "strip"
    ABRADE = "abrade"
    CUT_OUT = "cut_out"
    WIPE = "wipe"
    PRIME = "prime"
    COAT = "coat"
    TOUCH_UP = "touch_up"
    TEXTURE = "texture"
    INSPECT = "inspect"
    MOVE_OUT = "move_out"
    DISPATCH = "dispatch"


FILM_STEPS: Final = frozenset({Step.PRIME, Step.COAT, Step.TOUCH_UP, Step.TEXTURE})
YARD_STEPS: Final = frozenset({Step.RECEIVE, Step.DISPATCH})
MOVE_STEPS: Final = frozenset({Step.RECEIVE, Step.MOVE_IN, Step.MOVE_OUT, Step.DISPATCH})


def prepares_again(step: Step, before: Step) -> bool:
    """Whether a step does over again what an earlier one had prepared: abrading also roughens what was cut out."""
    return step is before or (step, before) == (Step.ABRADE, Step.CUT_OUT)


class Emits(StrEnum):
    """What a step puts into the air of its bay."""

    NOTHING = "nothing"
    DUST = "dust"
    VAPOUR = "vapour"


def _skills(words: tuple[str, ...]) -> tuple[str, ...]:
    for word in words:
        skill, _, count = word.partition(":")
        if not skill or not (count or "1").isdecimal() or int(count or "1") < 1:
            msg = f"'{word}' is not a skill with a head count; write it as sprayer:1"
            raise ValueError(msg)
    return words


class Method(Row):
    """How one step is done."""

    step: Step
    stage: Id = Field(description="steps of one stage share one stay in one bay; yard for receive and dispatch")
    set_up_min: Minutes = Field(0.0, description="fixed time of the step on a unit")
    m2_per_h: Positive | None = Field(None, description="rate over the area; empty for set-up time only")
    people: Annotated[Words, AfterValidator(_skills)] = Field(description="skills with head count: sprayer:1 attendant:1")
    tools: Words = Field((), description="kinds of equipment in use through the step")
    may_pause: Flag = Field(False, description="may stop over a break or a night and go on")
    emits: Emits = Emits.NOTHING
    respirator: Flag = False
    dry_min: Minutes = Field(0.0, description="wait after the step before the next one: water dries, solvent flashes off")
    hold_h: Hours | None = Field(None, description="longest wait until the first film goes on; empty for no limit")
    rh_max_pct: NotNegative | None = Field(None, description="humidity above which the step may not be done")
    wind_max_m_s: NotNegative | None = None
    rain_max_mm: NotNegative | None = Field(None, description="rain in an hour above which the step may not be done")
    air_min_c: CelsiusMaterial | None = None

    def crew_needs(self) -> tuple[tuple[str, int], ...]:
        """Skills with the number of people of each."""
        parts = (word.partition(":") for word in self.people)
        return tuple((skill, int(count or "1")) for skill, _, count in parts)
