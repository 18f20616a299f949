"""The plan as compact data inside the report: every text once, times in minutes; the page builds charts and tables from it."""
