"""
The calculation core: pure functions over plain values.

Nothing here knows a database, a web request, a clock or a setting; words for people leave as `Message` and get their
language above. Lengths are inches and angles degrees unless a name says otherwise.
"""
