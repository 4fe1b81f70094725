"""Parts as recipes: one module a kind. A part decides nothing; its parameters say it all."""
