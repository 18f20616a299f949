"""PDF files of the commands: asked for in time, written whole or not at all."""

import os
from pathlib import Path

from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import Failed


def needs_pdf() -> None:
    """Stop before any work is done if no PDF can be made here.

    Raises
    ------
    Failed
        With the way to get it.
    """
    from scheduler.documents.paper.pdf import PdfMissingError, require_pdf

    try:
        require_pdf()
    except PdfMissingError as error:
        raise Failed(ExitCode.BAD_INPUT, f"coatrun: {error}") from error


def put_pdf(path: Path, pdf: bytes) -> Path:
    """Write a file; a reader sees the old one or the new one, never a part."""
    path.parent.mkdir(parents=True, exist_ok=True)
    part = path.with_name(f".{path.name}.{os.getpid()}.part")
    part.write_bytes(pdf)
    part.replace(path)
    return path
