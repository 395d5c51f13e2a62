"""Web: screens and forms. Reads a request, calls one use case, answers; decides nothing about the trade."""
