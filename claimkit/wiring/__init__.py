"""From a folder to a case and from a case to files: the only place that joins all parts."""
