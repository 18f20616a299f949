"""What people are handed: a folder for each thing that is made; DEVELOPERS.md has the map."""
