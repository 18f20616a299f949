"""Take the pictures of the docs site from a plan of the demo, with a headless Chromium.

python -m scheduler.documents.site.pictures RUN_DIR [--chromium PATH]

RUN_DIR is the folder of a run of the demo, made by: coatrun demo
"""

import argparse
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Final

PICTURES: Final = Path(__file__).parent / "pages" / "pictures"
_SIZES: Final = {"report": (1280, 900), "day": (900, 760)}


def take(run: Path, chromium: str, out: Path = PICTURES) -> list[Path]:
    """Write the pictures.

    Parameters
    ----------
    run : Path
        Folder of a run.
    chromium : str
        Path of the browser.
    out : Path
        Made if it is not there.

    Raises
    ------
    FileNotFoundError
        If the folder holds no report.
    """
    day = sorted(run.glob("day-*.html"))
    pages = {"report": run / "index.html", "day": day[1] if len(day) > 1 else run / "day.html"}
    out.mkdir(parents=True, exist_ok=True)
    return [_shot(name, page, chromium, out) for name, page in pages.items()]


def _shot(name: str, page: Path, chromium: str, out: Path) -> Path:
    if not page.is_file():
        msg = f"{page}: there is no such page; make a run with: coatrun demo"
        raise FileNotFoundError(msg)
    picture = (out / f"{name}.png").resolve()
    width, height = _SIZES[name]
    flags = ("--headless", "--no-sandbox", "--hide-scrollbars", "--virtual-time-budget=8000", f"--window-size={width},{height}")
    command = [chromium, *flags, f"--screenshot={picture}", page.resolve().as_uri()]
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    return picture


def main() -> int:
    """Take the pictures and say where they lie."""
    parser = argparse.ArgumentParser(description="Take the pictures of the docs site from a plan of the demo.")
    parser.add_argument("run", type=Path)
    parser.add_argument("--chromium", default=shutil.which("chromium") or shutil.which("chromium-browser"))
    args = parser.parse_args()
    if args.chromium is None:
        parser.error("there is no chromium in the path; give it with --chromium")
    for picture in take(args.run, args.chromium):
        print(picture)
    return 0


if __name__ == "__main__":
    sys.exit(main())
