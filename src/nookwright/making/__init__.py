"""Making: pieces on beds, bedful by bedful, with grams and hours."""
