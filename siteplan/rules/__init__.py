"""One small function per rule, and the review that runs them."""
