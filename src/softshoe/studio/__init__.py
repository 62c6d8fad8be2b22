"""The studio: the same in a browser on this machine only."""
