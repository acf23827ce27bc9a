"""What no layout can beat: rooms and parts as bounds see them, measures of them, and shares of a sheet."""
