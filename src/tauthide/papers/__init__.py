"""Papers of a run: Markdown and CSV from its plan; they neither compute nor choose."""
