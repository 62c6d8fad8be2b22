"""How much of what was read is kept for the next time: sheets share their wording, and one being written is read again.

Ten thousand sheets of one shelf repeat a few thousand lines; so many are kept, of a length that lines have.
"""

MOST_KEPT = 4096  # lines, items, headings; the least lately asked goes first
LONGEST_KEPT = 400  # characters of a line
