"""Leeboard: when a hull may be worked on, who does it, and who is told. One room a folder."""
