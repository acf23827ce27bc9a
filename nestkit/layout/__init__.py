"""From a problem of boxes and sheets to a verified layout with its bounds."""
