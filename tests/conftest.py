"""What all tests share: which files are not tests."""

# Programs to run by hand; they import one another by name.
collect_ignore_glob = ["benchmarks/[!t]*.py", "gallery.py", "page_pictures.py"]
