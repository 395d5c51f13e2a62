"""Records: the tables, the engine that keeps them, and the migrations. The only layer that knows SQL's dialects."""
