"""Soak: cane in water, what for, since when, and when it is ready."""
