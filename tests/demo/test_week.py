"""The week that is played on the demo, with searches as short as can be: rain, a blister, an illness and a rush order."""

import json
import subprocess
import sys
from pathlib import Path

from scheduler.schedule.store import read_schedule

ROOT = Path(__file__).parents[2]


def test_the_week_can_be_played_and_every_schedule_passes_the_checker(tmp_path: Path) -> None:
    """The script stops at a command that fails and at a schedule that the checker refuses; the rush order is in the last one."""
    command = [sys.executable, ROOT / "demo" / "week" / "week.py", "--out", tmp_path / "week", "--moves", "2"]
    played = subprocess.run(command, check=False, cwd=tmp_path, capture_output=True, text=True, encoding="utf-8")
    assert played.returncode == 0, played.stdout[-2000:] + played.stderr[-2000:]
    assert played.stdout.rpartition("steps done")[2].count("all 25 rules hold") == 4
    assert len(list((tmp_path / "week").glob("choices-*.html"))) == 3
    assert "cut_out-r1" in played.stdout
    schedule = read_schedule(tmp_path / "week" / "run" / "schedule.json")
    assert "RX" in {row.order_id for row in schedule.deliveries}
    lines = (tmp_path / "week" / "run" / "events.jsonl").read_text("utf-8").splitlines()
    assert {"forecast", "reading", "failed", "away", "finished"} <= {json.loads(line)["kind"] for line in lines}
