"""What a delivery receipt's notes say: damage, shortage, and how far it binds."""
