"""The sums about measuring, a module each: is it worn, and how sure is that."""
