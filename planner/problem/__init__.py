"""Everything that is known before solving, resolved, sorted and cross-checked."""
