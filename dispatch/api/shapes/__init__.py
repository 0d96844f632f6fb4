"""What goes in and out of the endpoints, field by field."""
