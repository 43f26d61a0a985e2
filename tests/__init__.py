"""The tests of Kerfolio; README.md says which goes where."""
