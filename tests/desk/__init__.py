"""Tests of the verbs over a store."""
