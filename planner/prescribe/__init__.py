"""From a plan, ids only, to a week that a person can train from: loads, times, clock, words."""
