"""What happened, as events, and the shop as it stands now."""
