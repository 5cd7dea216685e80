"""Tests; a package, since a dependency installs a top-level package of the same name."""
