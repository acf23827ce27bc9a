"""Layout of true shapes for ways of cutting that follow any path."""
