"""What to measure next: what more readings would gain, before anybody takes them."""
