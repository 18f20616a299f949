"""Benchmarks: families of shops with frozen seeds, opponents on the same shops, one checker for all."""
