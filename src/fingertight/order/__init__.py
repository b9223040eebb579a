"""The room order (its map follows with its modules)."""
