"""Faults put into the program one at a time, and whether the tests that should notice do.

``python -m tests.mutants`` copies the tree, makes one edit, runs the tests that are named beside it, and
prints a table. It takes a while and runs on request only: ``--only ROOM`` for one room, ``--jobs N`` at once.
"""
