"""Pure functions of published physics: pure, typed, cited, the unit in the name; outside their range they refuse."""
