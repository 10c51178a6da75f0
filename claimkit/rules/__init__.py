"""Rules as data with citations: terms of carriage, receipt wording, instruments, cautions.

A rule is a row, not an `if`. Each names its source and whether it was read, read in summary or
is from memory; rules hold no functions, only their names.
"""
