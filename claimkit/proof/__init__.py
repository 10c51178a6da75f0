"""Evidence read again: jobs and bundles verified, bags written, timestamps checked."""
