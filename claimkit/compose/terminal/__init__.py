"""Lines for the terminal."""
