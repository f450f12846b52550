"""Commands: one module each with `add_arguments(parser)` and `run(arguments, out) -> exit code`."""
