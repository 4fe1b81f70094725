"""What a printer does to sizes: as surveyed by a coupon, or by safe defaults."""
