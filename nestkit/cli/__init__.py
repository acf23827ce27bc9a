"""The commands: each parses, calls the library, and shows what comes back."""
