"""Pictures and PDFs of a project: what they are by their content, kept once, and found again.

May use the rows of the books; nothing here draws or runs what a document holds.
"""
