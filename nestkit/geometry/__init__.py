"""Points, outlines with true arcs, turning and mirroring; shapely only in ``regions`` and ``clearance``."""
