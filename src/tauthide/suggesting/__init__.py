"""Values that meet the rules, for what a maker left out or got wrong, and how they are written into a spec."""
