"""The packet: its parts, in order, for each reader."""
