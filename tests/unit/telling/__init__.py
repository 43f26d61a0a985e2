"""Tests of the sentences and tables of a plan."""
