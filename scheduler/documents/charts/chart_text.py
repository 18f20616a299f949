"""Names inside a chart are cut to a length that fits."""

from scheduler.documents.words.direction import END_ISOLATE, ISOLATE


def chart_text(text: str, longest: int = 80) -> str:
    """Cut a text to a length and put it on one line.

    Parameters
    ----------
    text : str
        May hold line breaks or names that are set apart.
    longest : int
        Characters that are kept; what is longer ends in an ellipsis.

    Returns
    -------
    str
        Plain text: whoever draws it escapes it. Isolates that the cut left open are closed.
    """
    plain = " ".join(text.split())
    cut = plain if len(plain) <= longest else plain[: longest - 1] + "…"
    return cut + END_ISOLATE * (cut.count(ISOLATE) - cut.count(END_ISOLATE))
