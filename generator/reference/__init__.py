"""Reference data shipped with the generator: YAML files read by generator.loading."""
