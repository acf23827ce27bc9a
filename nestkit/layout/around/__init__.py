"""Groups laid out around copies that are held where they lie, and regions that are kept clear."""
