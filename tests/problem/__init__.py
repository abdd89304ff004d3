"""Tests of what is resolved and checked before solving."""
