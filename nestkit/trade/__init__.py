"""The trade tables: values with their sources, as CSV beside the code."""
