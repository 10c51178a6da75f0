"""Terms of carriage and of sale, as rows with citations."""
