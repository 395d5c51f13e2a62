"""What is wrong with a site's records, found by looking and explained: nothing here writes."""
