"""What a gym keeps of its weeks: one SQLite file in its folder, in which nothing is ever overwritten.

``store.py`` has the verbs, ``transfer.py`` a whole gym as one JSON file, ``past.py`` the weeks behind one,
``log.py`` how sessions went, ``meaning.py`` whether two changes contradict each other. Beneath are
``rows.py``, ``packing.py``, ``database.py``, ``migrations.py`` and ``synchronised.py``.
"""
