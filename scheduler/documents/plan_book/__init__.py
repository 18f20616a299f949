"""The plan as one workbook: state, dates, work, pick lists, what changed."""
