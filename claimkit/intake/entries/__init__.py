"""What people write: job.toml and the records, read whole, with every problem at once."""
