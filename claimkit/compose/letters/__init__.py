"""Letters: their parts, and what each says from the record."""
