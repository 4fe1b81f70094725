"""What could be left out, priced before anything is made: ``find`` gathers, the other modules each know one kind."""
