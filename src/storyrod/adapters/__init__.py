"""What reads, shows and writes: files, drawings, the packet, the page and the command line."""
