"""Who does what and when: the week problem, its plan, its judge and the search for it."""
