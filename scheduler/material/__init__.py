"""Which cartridge of which lot goes where, warmer slots, what to fetch and what to buy."""
