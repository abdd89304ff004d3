"""What is done with a week, one module a verb."""
