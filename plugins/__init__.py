"""Plugins: one folder each, strangers to one another."""
