"""Reading YAML."""
