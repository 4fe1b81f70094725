"""What finished prints say of a printer: how much longer and heavier they come out than estimated, and how surely."""
