"""What differs between two plans, in words and as a page."""
