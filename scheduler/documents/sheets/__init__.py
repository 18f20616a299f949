"""For the crew: the sheet of a day, of a person, and the record that goes with a unit."""
