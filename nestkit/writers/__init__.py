"""One small pen for each format, and the files of a job folder."""
