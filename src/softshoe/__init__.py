"""Softshoe: a workbench for the leader of line dances that everybody can dance."""

__version__ = "0.1.0"
