"""Everything that can be done with a week, one module for each verb. Start reading in ``draft.py``.

In each module the pure function comes first: it takes a ``Setting`` and a ``Week`` and returns values. Below
it, with ``_kept`` behind its name, stands the one that takes an open store: it looks up the candidate that is
meant and what the coach asked for, calls the pure one, and keeps the result, if there is a week to keep.

What they share: ``setting.py`` (everything a week is made from), ``written.py`` (a plan audited and written
out), ``keeping.py`` (candidates in the store), ``names.py`` (what a coach's word means), ``diff.py`` (what
changed from one plan to another).
"""
