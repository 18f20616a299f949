"""Many shops at once."""
