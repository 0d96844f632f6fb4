"""The search for a good week: the only part of the planner that imports OR-Tools."""
