"""Kerfolio: parametric furniture designs in, a library of buildable plans out."""
