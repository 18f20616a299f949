"""The schedule: who, where, when, with what; frozen, with its provenance."""
