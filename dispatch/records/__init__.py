"""Every table of the house."""
