"""PDF files of the commands: asked for in time, written whole or not at all."""

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
