"""The search engine for rectangles: one source, run as plain Python or compiled."""
