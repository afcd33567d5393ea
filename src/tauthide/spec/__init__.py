"""From documents to a spec: every value with its unit, its default and where it comes from."""
