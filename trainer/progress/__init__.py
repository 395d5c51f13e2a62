"""
Answers and what they say about a person: practice, skill, the next problem, the record.

The model itself (`skill`, `effect`, `difficulty`, `mistakes`, `choose`) is pure mathematics; the use cases around it take
a session, never commit, and return plain values.
"""
