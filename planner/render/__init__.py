"""The week on paper and on screen: reads a ``Week`` and nothing else."""
