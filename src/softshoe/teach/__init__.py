"""Teaching: what is shown, said and written, and when."""
