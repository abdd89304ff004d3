"""Tests of the prescription."""
