"""Calendar feeds (RFC 5545): the work of each person, the hand-overs of each order."""
