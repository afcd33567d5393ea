"""What records of built drums teach: better values for the shop file, each with its uncertainty."""
