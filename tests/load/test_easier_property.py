"""Whatever the easier options, loading refuses circles and nothing else."""

from __future__ import annotations

import json
import tempfile
from itertools import pairwise
from pathlib import Path

import networkx as nx
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.domain.graph import easier_graph
from planner.errors import DataError
from planner.load.catalogue import load_catalogue
from tests.load.small_files import FILES

NAMES = ("a", "b", "c", "d", "e", "f")
EDGES = st.sets(
    st.tuples(st.sampled_from(NAMES), st.sampled_from(NAMES)).filter(lambda e: e[0] != e[1]), max_size=9
)


def _movement(name: str, edges: set[tuple[str, str]]) -> dict[str, object]:
    return {
        "id": name,
        "name": name,
        "patterns": {"squat": 100},
        "modality": "bodyweight",
        "setups": [{}],
        "roles": ["conditioning"],
        "doses": {"open": [10]},
        "cap": 50,
        "pace": {"seconds": 2, "source": "common practice"},
        "standard": "Hips below the knees.",
        "points": ["chest up"],
        "prepares": ["hips"],
        "easier": [{"to": to, "how": "it is"} for start, to in sorted(edges) if start == name],
    }


@settings(max_examples=60, deadline=None)
@given(EDGES)
def test_circles_and_only_circles_are_refused(edges: set[tuple[str, str]]) -> None:
    wanted: nx.DiGraph[str] = nx.DiGraph(sorted(edges))
    wanted.add_nodes_from(NAMES)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "movements").mkdir()
        movements = json.dumps({"movements": [_movement(n, edges) for n in NAMES]})
        for file, text in {**FILES, "movements/squats.yaml": movements}.items():
            (folder / file).write_text(text, encoding="utf-8")
        try:
            graph = easier_graph(load_catalogue(folder))
        except DataError as error:
            assert not nx.is_directed_acyclic_graph(wanted)
            cycle = error.what.split(": ")[1].split(" -> ")
            assert cycle[0] == cycle[-1]
            assert set(pairwise(cycle)) <= edges
        else:
            assert nx.is_directed_acyclic_graph(wanted)
            assert set(graph.edges) == set(wanted.edges)
            assert set(graph.nodes) == set(wanted.nodes)
