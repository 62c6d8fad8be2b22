"""Repertoire: dances, songs and runs that are kept and found."""
