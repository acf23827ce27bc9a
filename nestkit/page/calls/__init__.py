"""What the browser may ask for, a file for each subject."""
