"""The documents of a run: the run itself, the skins at hand, and the lots of what else is in stock."""
