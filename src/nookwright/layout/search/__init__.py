"""The search for the best layout of a whole room: prices, assignment, annealing on packed spaces, and the bound."""
