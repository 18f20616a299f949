"""No looking for garbage while much is made that stays."""

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def no_collection() -> Iterator[None]:
    """Leave Python's collector of reference cycles off for a block.

    It walks over all that was made each time that much more is made. At 1000 units it takes a quarter of the time of getting
    ready and of the first schedule, where nothing is a cycle; of the time in which a page is laid out for paper, a sixth.
    """
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()
