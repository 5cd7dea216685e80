"""The kept record: what is said of the samples and of small changes to them (regression)."""
