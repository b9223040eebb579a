"""The room cards (its map follows with its modules)."""
