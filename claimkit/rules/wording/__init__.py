"""The wording rules of delivery receipts, as rows."""
