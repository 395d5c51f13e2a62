"""Drawings from the core's results: pure functions that give an `<svg>` element as text."""
