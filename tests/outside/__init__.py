"""A package of another's: what it adds, it adds by entry points alone."""
