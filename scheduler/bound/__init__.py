"""What no schedule can beat, from relaxations of the network."""
