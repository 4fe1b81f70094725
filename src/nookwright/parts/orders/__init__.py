"""Parts made to order from the room file."""
