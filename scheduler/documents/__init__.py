"""What people are handed: charts, day sheets, pick lists, delivery dates and the one report that holds them."""
