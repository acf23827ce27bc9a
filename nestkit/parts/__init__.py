"""What is to be made: panels, their holes, openings, marks and hands."""
