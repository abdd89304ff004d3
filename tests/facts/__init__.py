"""Facts of the trade and published facts, against what ships."""
