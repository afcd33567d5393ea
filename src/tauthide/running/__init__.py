"""The run: what several drums need together, laid on the hides, timed, counted and priced."""
