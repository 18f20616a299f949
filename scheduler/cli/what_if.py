"""coatrun what-if: what the shop would gain from one thing more."""

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

COLUMNS: Final = ("with", "days late, weighted", "saved", "packs and purges", "saved", "time spent")


@command(
    "what-if",
    "Say what would help: one warmer, sprayer, Saturday or dry bay more, ranked by what it saves.",
    ("coatrun what-if my-shop", "coatrun what-if my-shop --moves 2000 --json"),
    "The saved plan is planned again with each thing more, with the same moves and seed as the shop as it is, which is the first "
    "row. More moves tell smaller differences apart.",
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
    say(f"{moves} moves each, {sum(row.took_s for row in rows):.1f} s in all.")


def _saved(plain: "Helped", row: "Helped") -> tuple[float, float] | None:
    """Weighted days late and packs that a variant saves."""
    if plain.value is None or row.value is None:
        return None
    packs = (plain.value.spent_ppm - row.value.spent_ppm) / 1e6
    return plain.value.lateness - row.value.lateness, packs


def _cells(plain: "Helped", row: "Helped") -> tuple[str, ...]:
    saved = _saved(plain, row)
    took = f"{row.took_s:.1f} s"
    if row.value is None or saved is None:
        return row.says, "no plan found", "", "", "", took
    late, packs = str(row.value.lateness), f"{row.value.spent_ppm / 1e6:.2f}"
    return (row.says, late, "" if row is plain else f"{saved[0]:g}", packs, "" if row is plain else f"{saved[1]:.2f}", took)


def _data(plain: "Helped", row: "Helped") -> dict[str, object]:
    saved = _saved(plain, row)
    return {
        "name": row.name,
        "with": row.says,
        "lateness": None if row.value is None else row.value.lateness,
        "packs": None if row.value is None else row.value.spent_ppm / 1e6,
        "lateness_saved": None if saved is None else saved[0],
        "packs_saved": None if saved is None else saved[1],
        "took_s": round(row.took_s, 3),
    }
