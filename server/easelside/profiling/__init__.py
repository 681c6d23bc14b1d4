"""Profiling: sessions at the machine and the pieces that came out of them."""
