"""Picture bytes to values and to smaller pictures. Originals are never written."""
