"""The disk: job folder, photos, records, custody log and index become facts and problems.

Originals are opened for reading only. Whatever cannot be read becomes a fact with a reason.
"""
