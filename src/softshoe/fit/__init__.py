"""Fitting: one dance laid on one song."""
