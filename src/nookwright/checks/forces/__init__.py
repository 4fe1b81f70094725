"""What a slam, a pull and a full drawer do: whether parts and things stay where they are."""
