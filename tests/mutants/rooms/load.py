"""Files to values, and what is refused."""

from tests.mutants.fault import Fault

YAML = "planner/load/yaml_file.py"
VALIDATE = "planner/load/validate.py"
CATALOGUE = "planner/load/catalogue.py"
GYM = "planner/load/gym.py"
RULES = "planner/load/rules.py"
FORMATS = "planner/load/formats.py"
WRITING = "planner/load/writing.py"
PLACES = "planner/load/places.py"
NAMES = "planner/load/rule_names.py"
ORIGINS = "planner/load/rule_origins.py"
T = "tests/load/test_"
OF_YAML, OF_CATALOGUE, OF_GYM = f"{T}yaml_file.py", f"{T}load_catalogue.py", f"{T}load_gym.py"
OF_RULES, OF_FORMATS = (
    f"{T}rules.py",
    "tests/measured/test_weeks.py::test_files_and_values_say_the_same_of_how_pieces_run",
)

FAULTS = (
    Fault(YAML, "if isinstance(event, yaml.AliasEvent) or event.anchor:", "if isinstance(event, yaml.AliasEvent):", OF_YAML),
    Fault(YAML, 'if event.tag not in {None, "!"}:', "if False:", OF_YAML),
    Fault(YAML, "if len(steps) > MAX_DEPTH:", "if len(steps) > 10 * MAX_DEPTH:", OF_YAML),
    Fault(YAML, "if size > max_bytes:", "if size > 2 * max_bytes:", OF_YAML),
    Fault(YAML, "if documents > 1:", "if documents > 2:", OF_YAML),
    Fault(YAML, "return self._number(event) if event.implicit[0] else event.value", "return self._number(event)", OF_YAML),
    Fault(YAML, "if key in found or here in self.lines:", "if key in found and not steps:", OF_YAML),
    Fault(YAML, 'return text.count("\\n", 0, offset) + 1', 'return text.count("\\n", 0, offset)', OF_YAML),
    Fault(VALIDATE, "others[: MAX_PROBLEMS - 1]", "others[: 2 * MAX_PROBLEMS]", f"{OF_CATALOGUE} {T}validate.py"),
    Fault(VALIDATE, "hint = nearest(str(loc[-1]), names) or", 'hint = "" or', OF_CATALOGUE),
    Fault(CATALOGUE, "if entry.id in first:", "if entry.id in first and False:", OF_CATALOGUE),
    Fault(CATALOGUE, "if to == movement.id:", "if to == movement.name:", OF_CATALOGUE),
    Fault(CATALOGUE, "    _check_acyclic(movements, catalogue)\n    return catalogue", "    return catalogue", OF_CATALOGUE),
    Fault(CATALOGUE, "yield from _not_a_lift(setup.limit.of,", "yield from () and _not_a_lift(setup.limit.of,", OF_CATALOGUE),
    Fault(CATALOGUE, 'problems += _unknown_items(drill.needs, node, ("needs",), catalogue)', "pass", OF_CATALOGUE),
    Fault("planner/domain/catalogue.py", "if sum(self.patterns.values()) != 100:", "if sum(self.patterns.values()) > 100:", "tests/domain/test_movements.py"),
    Fault("planner/domain/catalogue.py", "if numbers and numbers[-1] > self.cap:", "if numbers and numbers[0] > self.cap:", "tests/domain/test_movements.py"),
    Fault("planner/domain/catalogue.py", "if list(numbers) != sorted(set(numbers)):", "if list(numbers) != sorted(numbers):", "tests/domain/test_movements.py"),
    Fault("planner/domain/catalogue.py", 'if self.doses and loaded == ("open" in self.doses):', 'if self.doses and loaded and "open" in self.doses:', "tests/domain/test_movements.py"),
    Fault("planner/domain/gym.py", "if list(self.days) != sorted(set(self.days), key=DAYS.index):", "if list(self.days) != sorted(self.days, key=DAYS.index):", OF_GYM),
    Fault("planner/domain/gym.py", 'if self.kits[0].contains != ("everything",):', 'if "everything" not in self.kits[0].contains:', OF_GYM),
    Fault("planner/domain/gym.py", "if len({k.id for k in self.kits}) != len(self.kits):", "if len(self.kits) < 1:", OF_GYM),
    Fault(GYM, "elif known.by_mass != isinstance(held, dict):", "elif known.by_mass and not isinstance(held, dict):", OF_GYM),
    Fault(GYM, "if item == EVERYTHING and len(kit.contains) > 1:", "if item == EVERYTHING and len(kit.contains) > 2:", OF_GYM),
    Fault(GYM, "elif kit.contains != (EVERYTHING,) and item not in kit.contains:", "elif False:", OF_GYM),
    Fault(GYM, "if isinstance(bars, dict) and bars and not bars.get(athlete.bar_kg):", "if isinstance(bars, dict) and bars and athlete.bar_kg not in bars:", OF_GYM),
    Fault(GYM, "if monday_of(week.week) < before]", "if monday_of(week.week) <= before]", OF_GYM),
    Fault(GYM, "reverse=True)[: max(0, limit)])", "reverse=False)[: max(0, limit)])", OF_GYM),
    Fault(GYM, "if week.schema_version != SCHEMA_VERSION:", "if week.schema_version > SCHEMA_VERSION:", OF_GYM),
    Fault(GYM, "if week.week in found:", "if week.week in found and False:", OF_GYM),
    Fault(GYM, 'elif key == "easy_days" and day in gym.hard_days:', 'elif key == "easy" and day in gym.hard_days:', OF_GYM),
    Fault(RULES, '"weight": 0 if change.must else old.weight}', '"weight": old.weight}', OF_RULES),
    Fault(RULES, 'update |= {"weight": change.weight, "must": False}', 'update |= {"weight": change.weight}', OF_RULES),
    Fault(RULES, "if isinstance(rule, str) and rule in first:", "if isinstance(rule, str) and rule in first and False:", OF_RULES),
    Fault(RULES, "if change.off is not None:", "if change.off:", OF_RULES),
    Fault(RULES, "if rule.id in rules:", "if rule.id in rules and rule.must:", OF_RULES),
    Fault(RULES, 'if change.because:\n        update["because"] = change.because', "", OF_RULES),
    Fault(RULES, "for node in _entries(own, problems):\n            rule", "for node in _entries(own, problems)[:1]:\n            rule", OF_RULES),
    Fault(NAMES, 'return {node.data["id"]: node for node in written if "kind" in node.data}', 'return {node.data["id"]: node for node in reversed(written) if "kind" in node.data}', OF_RULES),
    Fault(NAMES, "elif isinstance(value, tuple):", "elif isinstance(value, list):", OF_RULES),
    Fault(ORIGINS, "places[rule] = (*places.get(rule, ()), node.place())", "places[rule] = (node.place(),)", f"{OF_RULES} tests/cli/test_commands.py"),
    Fault(FORMATS, "rounds / (rounds + 0.5), minutes", "rounds / (rounds + 1), minutes", OF_FORMATS),
    Fault(FORMATS, "window = (ceil(low * 1000 / stretch), floor(high * 1000 / stretch))", "window = (floor(low * 1000 / stretch), floor(high * 1000 / stretch))", OF_FORMATS),
    Fault(FORMATS, "cap_minutes=cap * line.heats", "cap_minutes=cap", OF_FORMATS),
    Fault(FORMATS, "ceil(high * SLOW_PERCENT / 100 / 60)", "ceil(high / 60)", OF_FORMATS),
    Fault(FORMATS, "return rounds * line.every_s * low / 100, rounds * line.every_s * high / 100", "return rounds * line.every_s * low / 100, rounds * line.every_s", OF_FORMATS),
    Fault(FORMATS, "minutes = rounds * movements * SLOT_SECONDS // 60", "minutes = rounds * SLOT_SECONDS // 60", OF_FORMATS),
    Fault(FORMATS, "stations=line.stations", "stations=True", OF_FORMATS),
    Fault(WRITING, "temporary.chmod(_mode(path))", "pass", f"{T}writing_and_paths.py"),
    Fault(WRITING, "temporary.replace(path)", "path.write_bytes(content)", f"{T}writing_and_paths.py"),
    Fault("planner/domain/iso_week.py", "return week_of(today + timedelta(days=7))", "return week_of(today + timedelta(days=6))", "tests/domain/test_iso_week.py"),
    Fault("planner/domain/iso_week.py", "year, number, _ = day.isocalendar()", "year, number, _ = day.year, *day.isocalendar()[1:]", "tests/domain/test_iso_week.py"),
    Fault("planner/domain/iso_week.py", "if not 1 <= number <= last:", "if not 1 <= number <= 53:", "tests/domain/test_iso_week.py"),
    Fault("planner/domain/changes.py", "n * count // before if before else 0", "n if before else 0", "tests/domain/test_changes.py"),
    Fault("planner/domain/changes.py", '"hard_days": [d for d in gym.hard_days if d in (changes.days or gym.days)]', '"hard_days": list(gym.hard_days)', "tests/domain/test_changes.py"),
    Fault("planner/domain/changes.py", "inventory[item] = {**held, **by_mass}", "inventory[item] = dict(by_mass)", "tests/domain/test_changes.py"),
    Fault("planner/domain/changes.py", '"barbell" if item == "bar" else item', "item", "tests/domain/test_changes.py"),
)  # fmt: skip
