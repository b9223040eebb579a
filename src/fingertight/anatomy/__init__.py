"""The room anatomy (its map follows with its modules)."""
