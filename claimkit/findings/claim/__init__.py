"""The claim itself: amount, papers, elements of proof, liability, and whom to ask."""
