"""What the planner knows: the tables of a shop folder, validated."""
