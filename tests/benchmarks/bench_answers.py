"""Process time of answers from a saved plan of the demo and of one of 400 units: dates, quotes, also after a record, why."""

import resource
import subprocess
import sys
from pathlib import Path
from shutil import copytree

from scheduler.shop.read import read_shop
from scheduler.shop.write import write_shop
from tests.benchmarks.families import family

COUNTY = Path(__file__).parent.parent.parent / "demo" / "county"
LARGE = "XL-few-tight-indoor-large"
TIMES = 3


def test_answers(tmp_path: Path) -> None:
    """Print one table, the best of three each; nothing is asserted of the clock."""
    copytree(COUNTY, tmp_path / "demo")
    write_shop(family(LARGE).shop(seed=1), tmp_path / "large")
    print(f"\n{'answer':28s}  {'demo':>6s}  {'400 units':>9s}   s of process time, best of {TIMES}")
    rows = [_answers(tmp_path / name, tmp_path / "reports" / name) for name in ("demo", "large")]
    for answer in rows[0]:
        print(f"{answer:28s}  {rows[0][answer]:6.2f}  {rows[1][answer]:9.2f}")


def _answers(shop: Path, run: Path) -> dict[str, float]:
    _spent("plan", shop, "--out", run, "--moves", "50", "--workers", "1")
    known = read_shop(shop)
    units, begin, person = known.units, known.site.plan_from, known.crew[0].person_id
    like, late = f"5x{units[0].unit_id}", units[len(units) // 2].unit_id
    typed = {
        "dates": ("dates", run),
        "quote, nothing moved": ("quote", shop, like, "--told", run, "--nothing-moved"),
        "quote, with moves": ("quote", shop, like, "--told", run),
        "why": ("why", shop, late, "--told", run),
    }
    spent = {answer: _best(*words) for answer, words in typed.items()}
    away = ("--from", f"{begin:%Y-%m-%dT12:00}", "--until", f"{begin:%Y-%m-%dT18:00}", "--now", f"{begin:%Y-%m-%dT11:00}")
    spent["record, an absence"] = _spent("record", run, "away", person, *away)
    return {**spent, "quote after it, nothing moved": _best(*typed["quote, nothing moved"])}


def _best(*words: object) -> float:
    return min(_spent(*words) for _ in range(TIMES))


def _spent(*words: object) -> float:
    """Type a command; seconds of process time that it took."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, "-m", "scheduler.cli", *map(str, words)], check=True, capture_output=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
