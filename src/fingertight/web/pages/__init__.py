"""The pages: each view is guard, ask, render."""
