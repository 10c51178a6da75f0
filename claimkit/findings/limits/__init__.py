"""Time limits: their start events, days counted, what meets them, and the next move."""
