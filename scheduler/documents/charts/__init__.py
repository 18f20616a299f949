"""Charts of a schedule: bars by bay and by person over the load of crew, air and warmers, on one time axis."""
