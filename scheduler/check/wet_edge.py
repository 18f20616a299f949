"""Going on with a film that was stopped while its edge is wet: what was sprayed and its rest are one film then."""

from scheduler.check.jobs import Job
from scheduler.check.moments import minutes


def goes_on_wet(one: Job, two: Job) -> bool:
    """Whether the second job is the rest of the first and begins while the edge still takes up fresh material."""
    film = one.need.film
    if film is None or film.product.wet_edge_min is None or two.need.rest_of != one.need.name:
        return False
    return minutes(one.end, two.start) <= film.product.wet_edge_min
