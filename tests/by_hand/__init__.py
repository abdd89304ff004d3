"""Sessions by hand, from the text to the sheets."""
