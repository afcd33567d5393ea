"""The last step: a batch's files go to disk, whole or not at all, and only ours are ever touched."""
