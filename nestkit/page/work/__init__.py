"""What is worked out for the page, in processes of its own: plain values in, plain values out."""
