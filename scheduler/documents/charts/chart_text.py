"""Names inside a chart: plotly.js reads a few tags and entities in its texts, so a name is escaped and cut to length."""

from collections.abc import Iterable
from html import escape

from scheduler.documents.direction import END_ISOLATE, ISOLATE


def chart_text(text: str, longest: int = 80) -> str:
    """Make a text inert and readable inside a chart.

    Parameters
    ----------
    text : str
        May hold tags, quotes, line breaks or names that are set apart.
    longest : int
        Characters that are kept; what is longer ends in an ellipsis.

    Returns
    -------
    str
        Escaped, but for quotes, which plotly.js prints as they are; isolates that the cut left open are closed.
    """
    plain = " ".join(text.split())
    cut = plain if len(plain) <= longest else plain[: longest - 1] + "…"
    return escape(cut, quote=False) + END_ISOLATE * (cut.count(ISOLATE) - cut.count(END_ISOLATE))


def hover_lines(lines: Iterable[str]) -> str:
    """Lines of a hover text, each made inert."""
    return "<br>".join(chart_text(line, 110) for line in lines if line)
