"""SVG files that are read: what stands in them, and their head where it is not 100 x 80 mm in millimetres."""

from __future__ import annotations

MM = 'width="100mm" height="80mm" viewBox="0 0 100 80"'

GOOD: dict[str, tuple[str, str]] = {
    "rect": ('<rect x="10" y="10" width="60" height="40"/>', MM),
    "rounded rect": (
        '<rect x="10" y="10" width="60" height="40" rx="8"/><circle cx="40" cy="30" r="3"/>',
        MM,
    ),
    "rect of two radii": ('<rect x="10" y="10" width="60" height="40" rx="12" ry="5"/>', MM),
    "circle": ('<circle cx="50" cy="40" r="30"/><circle cx="50" cy="40" r="20"/>', MM),
    "ellipse": ('<ellipse cx="50" cy="40" rx="40" ry="15"/>', MM),
    "polygon": ('<polygon points="10,10 90,10 90,40 50,70,10,40"/>', MM),
    "polyline back to its start": ('<polyline points="10 10 90 10 50 70 10 10"/>', MM),
    "four lines": (
        '<line x1="10" y1="10" x2="80" y2="10"/><line x1="80" y1="60" x2="80" y2="10"/>'
        '<line x1="80" y1="60" x2="10" y2="60"/><line x1="10" y1="60" x2="10" y2="10"/>',
        MM,
    ),
    "path of lines": ('<path d="M10 10H80V60H10Z"/>', MM),
    "relative path": ('<path d="m10,10 70,0 0,50-70,0z"/>', MM),
    "two subpaths": ('<path d="M10 10h70v50h-70z m20 20v10h30v-10z"/>', MM),
    "cubic": ('<path d="M10 40 C 10 10 90 10 90 40 S 10 70 10 40"/>', MM),
    "quadratic": ('<path d="M10 40 Q 50 -10 90 40 T 50 60 L 10 60 Z"/>', MM),
    "arcs": ('<path d="M20 10H80A15 15 0 0 1 80 40H20A15 15 0 0120 10z"/>', MM),
    "large arc": ('<path d="M30 20 A 25 25 0 1 0 60 20 L 45 5 Z"/>', MM),
    "tilted elliptic arc": ('<path d="M20 30 A 35 15 30 0 1 80 50 L 20 70 Z"/>', MM),
    "arc too small for its ends": ('<path d="M20 30 A 5 5 0 0 1 80 30 L 50 70 Z"/>', MM),
    "group": ('<g transform="translate(30 10) rotate(30)"><rect width="40" height="20" rx="4"/></g>', MM),
    "mirrored": ('<g transform="matrix(-1 0 0 1 90 0)"><path d="M10 10H80A15 15 0 0 1 80 40H10Z"/></g>', MM),
    "use": (
        '<defs><path id="t" d="M0 0h20v30h-20z"/></defs>'
        '<use href="#t" x="20" y="15" transform="rotate(10)"/>',
        MM,
    ),
    "inches": ('<rect x="1" y="1" width="3" height="2"/>', 'width="5in" height="4in" viewBox="0 0 5 4"'),
    "no viewBox": ('<rect x="100" y="100" width="300" height="200"/>', 'width="500px" height="400px"'),
    "points to a view": (
        '<rect x="-5" y="-5" width="30" height="20"/>',
        'width="72pt" height="57.6pt" viewBox="-10 -10 50 40"',
    ),
    "numbers as programs write them": ('<path d="M1e1,1.0e+1L80-.0 8e1,.5e2.25.5e2z"/>', MM),
}
