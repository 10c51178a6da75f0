"""A delivery recorded while the driver waits: at a keyboard, or on a page for a telephone."""
