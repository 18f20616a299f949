"""Search: insertion gives a schedule at once, improvement and CP-SAT make it better, bounds tell how good it is."""
