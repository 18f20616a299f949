"""The report: one page with charts and tables, and the folder in which it lies beside sheets and lists."""
