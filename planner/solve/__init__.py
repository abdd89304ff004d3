"""The only package that imports the solver; a plain ``Plan`` comes out, no solver object."""
