"""The figure: a body of human lengths, posed on the count."""
