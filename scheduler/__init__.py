"""coatrun: a scheduling optimiser for multi-unit coating runs."""
