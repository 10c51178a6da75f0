"""From a document to bytes: the one place that imports the PDF library."""
