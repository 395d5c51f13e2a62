"""One module a subject, each with a blueprint: it reads the request, calls one use case, and answers."""
