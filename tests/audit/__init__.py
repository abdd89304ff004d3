"""Tests of this part; a package, so that its helpers can be imported."""
