"""The trade's own things as frozen values: jobs, records, photos, time limits, gaps, documents.

Nothing here reads a disk, knows a rule or prints. Every other part of claimkit imports from
here, and this package imports nothing of claimkit but itself.
"""
