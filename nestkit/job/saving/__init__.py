"""A changed job written back into the text of its file: comments, order and the look of the rest stay."""
