"""Layout of rectangles: free, and edge to edge for the saw."""
