"""Plain frozen values; nothing here reads a file, draws, or solves."""
