"""Words for people: sentences by id, formats of values, templates and Markdown. Knows the core and nothing above it."""
