"""The content of the site: what is on the shelf now, and every version of it that was ever used."""
