"""Papers of this site: what goes on each of them, in the reader's language, and how it is sent as PDF."""
