"""From text to parts and stock: the job file, spreadsheets, and every mistake with its place."""
