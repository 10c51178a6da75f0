"""The receiving page: one HTML file for a telephone at the curb, with no network and no framework.

Its script, style and service worker are plain files beside this one; `build` fills them with one
job. What goes onto the receipt comes from `claimkit.rules.receiving`, as data.
"""
