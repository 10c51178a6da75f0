"""The receiving sheet: its blocks, texts and words."""
