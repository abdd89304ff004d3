"""What is done with a week, pure and kept in a store."""
