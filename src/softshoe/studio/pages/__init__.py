"""The studio's pages, one module each; ``studio/table.py`` lists them."""
