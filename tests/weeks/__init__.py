"""Tests of the verbs: what is done with a drafted week."""
