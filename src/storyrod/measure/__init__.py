"""Lengths, tolerance, points, boxes and frames."""
