"""The room tighten (its map follows with its modules)."""
