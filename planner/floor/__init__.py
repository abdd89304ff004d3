"""The class on the floor: every athlete and every item, second by second; the judge of what the model's rows allow."""
