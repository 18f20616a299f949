"""How things are said, everywhere alike: moments, quantities, names, steps, tables."""
