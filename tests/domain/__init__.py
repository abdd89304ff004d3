"""Tests of the plain values."""
