"""Lessons: read once from Markdown into blocks, written as HTML with drawings and worked examples put in."""
