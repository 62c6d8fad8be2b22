"""Wording: from a sheet's words to a dance, and back."""
