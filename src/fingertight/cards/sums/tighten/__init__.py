"""Sums about fasteners: thread, identify, spanner, torque, wrench, pattern. A file each, with its `SUM`."""
