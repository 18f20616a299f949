"""From now on: choices, comparison, dates for a request, why, what would help."""
