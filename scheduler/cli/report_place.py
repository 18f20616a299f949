"""The folder of a report, looked at before a long search and not after it."""

from pathlib import Path

from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import Failed


def place_for_report(out: Path) -> None:
    """Look whether a report can be written into a folder.

    Raises
    ------
    Failed
        If the folder holds something that is no report, is none, or nothing can be written beside it.
    """
    from scheduler.documents.report.report_folder import NotAReportError, refuse_foreign

    try:
        refuse_foreign(out)
    except NotAReportError as error:
        raise Failed(ExitCode.BAD_INPUT, f"coatrun: {error}") from error
