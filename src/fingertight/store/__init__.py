"""The room store (its map follows with its modules)."""
