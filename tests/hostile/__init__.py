"""What is wrong, endless or interrupted, at every door of the program."""
