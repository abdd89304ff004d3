"""A class as processes, one for each athlete, and its items as resources: what the recursion is held to."""

from __future__ import annotations

import simpy

from planner.floor.piece import ClassMember, FloorPiece, resource_of, scarce


def played(piece: FloorPiece, athletes: tuple[ClassMember, ...], pace: list[float]) -> list[list[tuple]]:
    """When each athlete comes to each visit, begins it and is done, seconds; one heat."""
    world = simpy.Environment()
    counts = scarce(piece, athletes)
    rooms: dict = {}
    found: list[list[tuple]] = [[] for _ in athletes]
    ends = float("inf") if piece.end_s is None else piece.end_s

    def room(key):
        held, own = key
        if key not in rooms:
            rooms[key] = simpy.Resource(world, 1 if own is not None else counts[held])
        return rooms[key]

    def athlete(a: ClassMember, slower: float):
        yield world.timeout(a.start_s)
        for visit in a.visits:
            each = 1.0 if visit.fixed else slower
            if visit.not_before_s > world.now:
                yield world.timeout(visit.not_before_s - world.now)
            yield world.timeout(visit.walk_s * each + visit.pause_s)
            come = world.now
            if come >= ends:
                return
            yield world.timeout(1e-7 * a.number)  # who come at the same time go by number
            takes = piece.running.stations[visit.station].takes[a.group]
            asked = [room(resource_of(piece, a, h)).request() for h in takes if h in counts]
            yield simpy.AllOf(world, asked)
            if world.now >= ends:
                return
            begin = world.now
            yield world.timeout(visit.seconds * each)
            for key, request in zip(
                [resource_of(piece, a, h) for h in takes if h in counts], asked, strict=True
            ):
                room(key).release(request)
            found[a.number].append((come, begin, world.now))

    for a in athletes:
        world.process(athlete(a, pace[a.number]))
    world.run()
    return found
