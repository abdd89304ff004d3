"""Adds a sheet, a verb and a kind of rule to the planner without a line in it."""
