"""The plan of one drum: everything that is known of it, frozen, for sheets, drawings and files to read."""
