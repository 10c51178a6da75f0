"""Photos and records in time: episodes, the order of events, originals and copies."""
