"""How the plan stands: goals, dates and their slack, what binds."""
