"""What we tell people: why, when, in which words, and each thing once."""
