"""Does each function do what its docstring says?"""
