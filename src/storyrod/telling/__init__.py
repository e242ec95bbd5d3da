"""What a plan says, in words and view models: one telling for paper, page, command line, files and bench log.

Each module is one subject. The adapters ask it and lay out; what is said, and in which words, is decided here.
"""
