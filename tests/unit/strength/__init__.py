"""The strength stage."""
