"""People: who they are, how they sign in, what each may see, and a note of what was done."""
