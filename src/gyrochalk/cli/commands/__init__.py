"""What each command does: read its arguments, call the layer that knows, report."""
