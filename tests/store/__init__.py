"""The store, against a plain model of it, against kills, and against other processes."""
