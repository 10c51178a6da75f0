"""The delivery: what was bought, came and was found, and the order of the work."""
