"""Rendering: finished values become pages, pictures, sound, films, captions."""
