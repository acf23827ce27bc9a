"""What parts can be cut from, and how it is cut."""
