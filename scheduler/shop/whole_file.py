"""A file that is written whole or not at all."""

import os
from pathlib import Path


def put_file(path: Path, data: bytes | str, *, synced: bool = False) -> Path:
    """Write a file; a reader sees the old one or the new one, never a part, whatever goes wrong.

    Parameters
    ----------
    path : Path
        Its folder is made if it is missing.
    data : bytes or str
        Text goes out in UTF-8 with its line ends as they are.
    synced : bool
        Wait until it is on the disk: for what cannot be made again.

    Raises
    ------
    OSError
        If it cannot be written; what was there stays.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    part = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        with part.open("wb") as out:
            out.write(data.encode("utf-8") if isinstance(data, str) else data)
            if synced:
                out.flush()
                os.fsync(out.fileno())
        part.replace(path)
    finally:
        part.unlink(missing_ok=True)
    return path
