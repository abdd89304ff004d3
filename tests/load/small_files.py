"""The files of a catalogue and a gym small enough to read."""

from __future__ import annotations

EQUIPMENT = """\
items:
  - {id: barbell, name: barbell, plural: barbells, loaded: true, by_mass: true}
  - {id: rack, name: rack, plural: racks}
  - {id: box, name: box, plural: boxes}
"""
MOVEMENTS = """\
movements:
  - id: back_squat
    name: back squat
    patterns: {squat: 100}
    modality: loaded
    setups:
      - {needs: [barbell, rack], start: rack}
      - {needs: [barbell], start: floor, limit: {of: clean_and_jerk, percent: 80, because: overhead first}}
    roles: [main]
    goals: [strength]
    cap: 60
    pace: {seconds: 3, source: common practice}
    lift: {of: back_squat, percent: 100, source: the lift itself}
    standard: Hips below the knees.
    points: [chest up]
    prepares: [hips]
    easier:
      - {to: air_squat, how: without a bar}
  - id: air_squat
    name: air squat
    patterns: {squat: 100}
    modality: bodyweight
    setups: [{}]
    roles: [conditioning]
    doses: {open: [10, 15, 20]}
    cap: 100
    pace: {seconds: 1.6, source: common practice}
    standard: Hips below the knees.
    points: [chest up]
    prepares: [hips]
"""
DRILLS = """\
drills:
  - {id: march, name: marching, phase: raise, prepares: [pulse], dose: 60 seconds, seconds: 60}
"""
SCHEMES = """\
schemes:
  - {id: five_by_five, name: Five sets of five, goal: strength, sets: 5, reps: 5, tier: heavy, reserve: 2,
     rest_s: 120, effort: 3, seconds_per_rep: 3.5, limited: slowly, limited_reps: 8, say: Fives.}
"""
FORMATS = """\
domains:
  - {id: short, name: short, seconds: [240, 420], fatigue_percent: 5, stimulus: Hard and short.}
formats:
  - id: rounds_for_time
    name: rounds for time
    timed: for_time
    how: In order.
    score: Your time.
    shapes:
      - {rounds: [3], movements: [1], domain: short, effort: 5}
"""
GYM = """\
name: Small Place (invented)
invented: true
days: [mon, wed, fri]
timezone: Europe/Lisbon
class: {size: 6, minutes: 55}
inventory:
  barbell: {20: 4, 15: 4}
  rack: 2
kits:
  - {id: floor, name: Gym floor, contains: [everything]}
  - {id: no_kit, name: No kit}
athletes:
  - {id: man, name: Man, bar_kg: 20, lifts: {back_squat: 120, clean_and_jerk: 90}}
  - {id: woman, name: Woman, bar_kg: 15, lifts: {back_squat: 80, clean_and_jerk: 60}}
hard_days: [wed]
"""
FILES = {
    "equipment.yaml": EQUIPMENT,
    "movements/squats.yaml": MOVEMENTS,
    "drills.yaml": DRILLS,
    "schemes.yaml": SCHEMES,
    "formats.yaml": FORMATS,
    "gym.yaml": GYM,
}
