"""Do the bolted joints go together: placement, tolerance, chance, advice, hardware, drills."""
