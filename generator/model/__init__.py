"""The frozen results of the stages; who knows these knows the program. Nothing here decides."""
