"""Outline files: from DXF and SVG to the outline, the openings and the drill holes of a panel."""
