"""The docs site: pages written by hand in ``pages``, references generated from the models, the rules and the tests."""
