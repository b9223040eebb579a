"""The room paper (its map follows with its modules)."""
