"""As-built records of a run: read, judged beside its plan, and amended."""
