"""Write the feeds of a schedule into a folder, each following on from the file that is there."""

from collections.abc import Callable
from pathlib import Path

from scheduler.documents.feed.calendar_file import calendar_bytes
from scheduler.documents.feed.entries import Feed, feeds
from scheduler.documents.words.work_words import WorkWords
from scheduler.shop.whole_file import put_file


def write_feeds(words: WorkWords, folder: Path, say: Callable[[str], None]) -> tuple[Path, ...]:
    """Write a file for each person and order.

    Parameters
    ----------
    words : WorkWords
    folder : Path
        Made if it is not there. Files of people and orders that are gone have their entries taken back.
    say : callable
        Told of an earlier file that cannot be read; its entries then start anew.

    Returns
    -------
    tuple of Path
        Files written.
    """
    folder.mkdir(parents=True, exist_ok=True)
    made = feeds(words)
    names = {feed.name for feed in made}
    old = sorted(path.stem for pattern in ("person-*.ics", "order-*.ics") for path in folder.glob(pattern))
    gone = [Feed(name, name.replace("-", " ", 1), ()) for name in old if name not in names]
    return tuple(_write(words, feed, folder / f"{feed.name}.ics", say) for feed in (*made, *gone))


def _write(words: WorkWords, feed: Feed, path: Path, say: Callable[[str], None]) -> Path:
    schedule = words.schedule
    values = (feed, words.shop.site.tz, schedule.provenance.made_at, schedule.plan_from)
    try:
        data = calendar_bytes(*values, path.read_bytes() if path.is_file() else None)
    except (ValueError, OSError, KeyError, TypeError) as error:
        say(f"{path} cannot be read ({' '.join(str(error).split())[:80]}); its entries start anew.")
        data = calendar_bytes(*values)
    return put_file(path, data)
