"""The frozen values that travel between the stages."""
