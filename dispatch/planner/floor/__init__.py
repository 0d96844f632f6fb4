"""What a van can do on a day at best: the compiled columns of the proven floor."""
