"""Goals as people call them."""

from typing import Final

GOAL_WORDS: Final = {
    "lateness": "Days late, weighted",
    "material": "Packs with purges",
    "cost": "Cost of overtime and hire",
    "finish": "Days until hand-over, all units",
    "even_load": "Uneven load of the crew",
}
