"""The room of a schedule made anew at once where something else was said, so that the next question does not wait for it."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from scheduler.cli.failed import Failed
from scheduler.cli.talk import say
from scheduler.replan.saved_room import ROOM_FILE, is_fresh


@contextmanager
def room_kept_fresh(folder: Path, file: Path) -> Iterator[None]:
    """Make the room anew after the block, if there was one and the block has changed what it rests on.

    Parameters
    ----------
    folder, file : Path
        Of the shop, and its ``schedule.json``.
    """
    was_fresh = (file.parent / ROOM_FILE).is_file() and is_fresh(folder, file)
    try:
        yield
    except KeyboardInterrupt:
        was_fresh = False  # nobody who stops a command waits for more; the next question makes the room
        raise
    finally:
        if was_fresh and not is_fresh(folder, file):
            make_fresh(folder, file)


def make_fresh(folder: Path, file: Path) -> None:
    """Make the room; that nothing can be promised any more is no fault of what was said or planned."""
    from scheduler.cli.keep_room import keep_room

    try:
        keep_room(folder, file)
    except Failed as failed:
        say(f"No dates can be quoted until it is planned again. {failed.says}")
