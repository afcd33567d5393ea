"""From bytes to located YAML: the data of a document, and where in its text each part stands."""
