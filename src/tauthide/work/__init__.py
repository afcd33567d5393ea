"""The order of work: what is done when, how long it takes, and what must still be wet."""
