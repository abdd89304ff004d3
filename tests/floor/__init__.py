"""The class on the floor."""
