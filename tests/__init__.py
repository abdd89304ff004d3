"""Tests; a package, so that helpers have one name however pytest is started."""
