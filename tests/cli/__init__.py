"""The command line, on a copy of the shared folders."""
