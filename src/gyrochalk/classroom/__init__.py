"""The server that shows a workspace's built pages to this machine's browser."""
