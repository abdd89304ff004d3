"""What a gym keeps of its weeks: one SQLite file in its folder, in which nothing is ever overwritten.

``store.py`` has the verbs, ``transfer.py`` a whole gym as one JSON file, ``past.py`` the weeks behind one,
``log.py`` how sessions went. Beneath are ``database.py``, ``migrations.py``, ``tables.py``, ``packing.py``.
"""
