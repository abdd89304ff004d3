"""The class on the floor: every athlete and every item, second by second; it judges what rows allow."""
