"""Adapting: one dance made over for other bodies, counts unchanged."""
