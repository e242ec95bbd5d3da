"""What every workshop reckons by: boards and woods, cutters and bushes, strengths, errors that add up, lifting.

Each module names the source of its figures. Stages ask here, and so do the tests that hold the figures against their
sources: what is worked out here is worked out nowhere else.
"""
