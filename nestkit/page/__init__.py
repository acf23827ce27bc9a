"""The local page: a server for one browser on this computer; the same engine and drawings as the commands."""
