"""Problem families as files, problems drawn from them, typed answers judged. Knows no database, no clock, no settings."""
