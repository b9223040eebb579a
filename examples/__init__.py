"""Invented example machines, each with logs; shipped with the program as `fingertight.examples`."""
