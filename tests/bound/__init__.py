"""Tests of the bounds."""
