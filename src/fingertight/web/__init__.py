"""The room web (its map follows with its modules)."""
