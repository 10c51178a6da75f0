"""Gaps at stations: readings, pairs of episodes, three answers, and what they do not show."""
