"""The ground: the dance as exact, frozen values. Standard library only."""
