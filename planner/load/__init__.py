"""From files to plain values: every fault with its file, its line, its key and what would be right."""
