"""
Classes and crews: who makes them, who joins them and what is shown to whom, work that is given, and its results.

Use cases take a session and an actor, never commit, and return plain values; who may do what is decided where the thing
is fetched, in `trainer.accounts.access`.
"""
