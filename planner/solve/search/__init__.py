"""The search: one call of the solver, layers in lexicographic order, fillings, cuts, and a whole draft."""
