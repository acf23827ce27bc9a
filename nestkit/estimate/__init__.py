"""What to buy, what it costs and weighs, how long it takes."""
