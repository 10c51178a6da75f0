"""claimkit: an organiser of delivery damage and claim evidence.

A job folder of photos, papers and short records becomes dated facts, findings,
time limits and a printed packet in which every statement names its source.
"""

__version__ = "0.1.0"
