"""The room cli (its map follows with its modules)."""
