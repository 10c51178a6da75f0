"""From a case to a document of statements for one reader. Pure: values in, values out."""
