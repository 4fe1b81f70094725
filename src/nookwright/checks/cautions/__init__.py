"""What could hurt somebody though all fits: the usual cautions, only where they apply, each with its source."""
