"""The room measure (its map follows with its modules)."""
