"""What links, pictures and fenced blocks mean: one directive a file."""
