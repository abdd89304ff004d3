"""What a coach does with a week once there is one: plain functions over values, progress passed in."""
