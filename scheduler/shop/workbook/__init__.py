"""A shop as one workbook (XLSX): a sheet for each table and one for the settings."""
