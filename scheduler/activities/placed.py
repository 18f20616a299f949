"""A solution of the network: start slots, bay classes, named workers, draws."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Placed:
    """Where everything was put.

    Attributes
    ----------
    start : tuple of int
        Start slot of each activity.
    bay_class : tuple of int
        Class of each stay.
    crew : tuple of tuple of (worker, skill)
        Named workers of each activity.
    draws : tuple of tuple of (source, microlitres)
        What each activity takes out of the stock.
    """

    start: tuple[int, ...]
    bay_class: tuple[int, ...]
    crew: tuple[tuple[tuple[int, str], ...], ...]
    draws: tuple[tuple[tuple[int, int], ...], ...]
