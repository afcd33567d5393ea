"""Rules of the trade: each whole in one module, listed in `tauthide.rules.registry`."""
