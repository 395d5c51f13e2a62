"""A site's records as a whole: read in one snapshot, written into an empty database, compared table by table."""
