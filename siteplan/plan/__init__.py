"""The document: what is on the lot, as frozen models in SI."""
