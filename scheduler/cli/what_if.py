"""coatrun what-if: what the shop would gain from one thing more."""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

from scheduler.cli.command import command
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.saved import shop_and_run
from scheduler.cli.talk import say, show, show_json
from scheduler.cli.text_table import text_table
from scheduler.cli.trying import tries

if TYPE_CHECKING:
    from scheduler.replan.what_if import Helped

COLUMNS: Final = ("with", "days late, weighted", "saved", "packs and purges", "saved", "unit days", "saved", "time spent")
LEAST: Final = 0.05
"""Less is no gain worth a sentence."""


@command(
    "what-if",
    "Say what would help: one warmer, sprayer, Saturday or dry bay more, ranked by what it saves.",
    ("coatrun what-if my-shop", "coatrun what-if my-shop --moves 2000 --json"),
    "The saved plan is planned again with each thing more and the same moves. The first row is the shop as it is, the better of "
    "two searches with different seeds. More moves tell smaller differences apart.",
)
@tries(moves=300)
def what_if(folder: Path, told: Path | None, moves: int, seed: int, as_json: bool) -> None:
    """Plan each variant and rank them."""
    from scheduler.cli.saved_plan import saved_plan
    from scheduler.replan.what_if import what_helps

    folder, told = shop_and_run(folder, told)
    saved = saved_plan(folder, told)
    rows = what_helps(saved.shop, saved.schedule, moves, seed, lambda says: say(f"trying {says}"))
    if as_json:
        show_json("what-if", ExitCode.DONE, {"moves": moves, "seed": seed, "rows": [_data(rows[0], row) for row in rows]})
        return
    show(text_table(COLUMNS, [_cells(rows[0], row) for row in rows]))
    show(_verdict(rows))
    if rows[0].spread:
        says = f"Two searches of the shop as it is differ by {rows[0].spread} weighted days late"
        show(f"{says}: gains of no more than that may be luck; more --moves tell them apart.")
    say(f"{moves} moves each, {sum(row.took_s for row in rows):.1f} s in all.")


def _saved(plain: "Helped", row: "Helped") -> tuple[float, float, float] | None:
    """Weighted days late, packs and unit days that a variant saves."""
    if plain.value is None or row.value is None:
        return None
    packs = (plain.value.spent_ppm - row.value.spent_ppm) / 1e6
    return plain.value.lateness - row.value.lateness, packs, plain.unit_days - row.unit_days


def _cells(plain: "Helped", row: "Helped") -> tuple[str, ...]:
    saved, took = _saved(plain, row), f"{row.took_s:.1f} s"
    if row.value is None or saved is None:
        return row.says, "no plan found", "", "", "", "", "", took
    late, packs, days = str(row.value.lateness), f"{row.value.spent_ppm / 1e6:.2f}", f"{row.unit_days:.1f}"
    gains = ("", "", "") if row is plain else (f"{saved[0]:g}", f"{saved[1]:.2f}", f"{saved[2]:.1f}")
    return row.says, late, gains[0], packs, gains[1], days, gains[2], took


def _verdict(rows: Sequence["Helped"]) -> str:
    """What helps most, in a sentence; with few moves a search that went astray may make a thing more look like a loss."""
    plain, *others = rows
    best = [(saved, row) for row in others if (saved := _saved(plain, row)) is not None]
    if not best:
        return "No plan was found for any of them."
    for goal, unit in enumerate(("weighted days late", "packs", "unit days until they are back")):
        gains, row = max(best, key=lambda pair: pair[0][goal])
        if gains[goal] >= LEAST:
            none = "" if not goal else f"Nothing that was tried saves {'days late' if goal == 1 else 'days late or packs'}. "
            return f"{none}Most helps {row.says}: {gains[goal]:.4g} {unit} less."
    return "Nothing that was tried helps."


def _data(plain: "Helped", row: "Helped") -> dict[str, object]:
    saved = _saved(plain, row)
    return {
        "name": row.name,
        "with": row.says,
        "lateness": None if row.value is None else row.value.lateness,
        "packs": None if row.value is None else row.value.spent_ppm / 1e6,
        "unit_days": None if row.value is None else row.unit_days,
        "lateness_saved": None if saved is None else saved[0],
        "packs_saved": None if saved is None else saved[1],
        "unit_days_saved": None if saved is None else round(saved[2], 2),
        "took_s": round(row.took_s, 3),
        **({"spread": row.spread} if row is plain else {}),
    }
