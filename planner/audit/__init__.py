"""Every rule again, in plain Python, from the plan alone; the solver is not imported here."""
