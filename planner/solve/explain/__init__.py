"""Why there is no week: what clashes, and what would help, in a coach's words."""
