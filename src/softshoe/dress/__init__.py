"""Dressing: her own filmed run-through, its counts found and written."""
