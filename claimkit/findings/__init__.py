"""Pure reasoning from facts to a case: dates, episodes, receipts, time limits, gaps, findings.

Nothing here touches the disk, asks the clock or prints.
"""
