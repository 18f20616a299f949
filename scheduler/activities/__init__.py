"""From what the planner knows to activities on an integer grid: what each unit needs, for how long, after what, with whom."""
