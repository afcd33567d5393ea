"""Approving: whether a drum's plan has been reviewed, and what has changed since."""
