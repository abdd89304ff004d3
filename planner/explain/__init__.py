"""What a rule, a week or a file says, in words."""
