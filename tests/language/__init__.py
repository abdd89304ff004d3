"""Sessions as text."""
