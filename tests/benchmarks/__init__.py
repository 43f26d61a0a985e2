"""Benchmarks: programs that print how long the work takes; a small run of each is tested."""
