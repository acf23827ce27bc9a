"""nestkit: from drawings of panels to stock, sheets, templates and a buy list."""

__version__ = "0.1.0"
