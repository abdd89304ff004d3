"""Sessions as text: read, refused, written."""

from tests.mutants.fault import Fault

ROOM = "planner/language/"
TOKENS, LINE, READER, WRITER = (f"{ROOM}{name}.py" for name in ("tokens", "text_line", "reader", "writer"))
SETS, LIFTS, WORKS, RUNNING = (f"{ROOM}{name}.py" for name in ("sets", "lifts", "works", "running"))
PARTS, VOCABULARY, NEAREST, FILES = (
    f"{ROOM}{name}.py" for name in ("parts", "vocabulary", "nearest", "files")
)
GRAMMAR, DRAFTS, SCHEMES, FAULTS_OF = (
    f"{ROOM}{name}.py" for name in ("grammar", "drafts", "schemes", "faults")
)
T = "tests/language/test_"
CORPUS, WORDS, PUBLISHED = f"{T}corpus.py", f"{T}words.py", f"{T}published.py"
ANY = f"{T}any_text.py"

FAULTS = (
    Fault(
        TOKENS,
        "seconds = MOST_NUMBER if large else round(float(number) * unit_s)",
        "seconds = round(float(number) * unit_s)",
        ANY,
        unseen="a longer number is refused further on",
    ),
    Fault(
        TOKENS, 'if kind == "NOISE" or (kind == "OF" and before != "SETS"):', 'if kind == "NOISE":', CORPUS
    ),
    Fault(
        TOKENS,
        'kept.append(_time(token, MINUTE_S) if kind == "NUMBER" and after in _MINUTES_AFTER else token)',
        "kept.append(token)",
        CORPUS,
    ),
    Fault(
        TOKENS,
        'return ("DURATION", str(minutes * MINUTE_S + seconds)) if seconds < MINUTE_S else (UNKNOWN, match[0])',
        'return "DURATION", str(minutes * MINUTE_S + seconds)',
        CORPUS,
    ),
    Fault(
        TOKENS,
        "if not step or (last - first) % step or not 0 < (last - first) // step <= MOST_STEPS:",
        "if not step:",
        CORPUS,
    ),
    Fault(
        TOKENS,
        'key += "and" if chunk[1] == "&" else chunk[1].casefold()',
        "key += chunk[1].casefold()",
        f"{CORPUS} {WORDS}",
    ),
    Fault(
        TOKENS,
        'if last is not None and {last.type, token.type} <= {UNKNOWN, "MOVEMENT"}:',
        "if False and last is not None:",
        CORPUS,
    ),
    Fault(
        LINE,
        "return TextLine(number, raw, plain, start, note.start() if note else len(raw), text)",
        "return TextLine(number, raw, plain, 0, note.start() if note else len(raw), text)",
        CORPUS,
    ),
    Fault(
        LINE,
        "opened = at if not depth else opened",
        "opened = at",
        CORPUS,
        unseen="brackets in brackets are put aside in part only",
    ),
    Fault(READER, "self.piece.spoilt = False", "pass", CORPUS),
    Fault(
        READER,
        "if len(self.mistakes) > MAX_PROBLEMS:",
        "if False:",
        f"{ANY}::test_a_text_of_mistakes_is_not_looked_up_to_its_end",
    ),
    Fault(READER, "spoilt, piece.spoilt = piece.spoilt, True", "spoilt = piece.spoilt", CORPUS),
    Fault(
        READER,
        'self.piece, self.version = None, ""\n        self._note(line.note_text)',
        "self._note(line.note_text)",
        WORDS,
    ),
    Fault(
        READER,
        "if len(text) > LONGEST_TEXT:",
        "if len(text) > 100 * LONGEST_TEXT:",
        f"{ANY}::test_too_long_a_text_is_said",
    ),
    Fault(
        WRITER,
        'return drill if bare and any(c.isalnum() for c in drill) else f"drill: {drill}"',
        "return drill",
        CORPUS,
    ),
    Fault(
        WRITER,
        'said.append(f"as {vocabulary.scheme_name(lift.scheme)}" if lift.scheme else "as written")',
        "pass",
        CORPUS,
    ),
    Fault(
        WRITER,
        'unit = "" if sets.unit == usual == "reps" else f" {UNIT_WORDS[sets.unit]}"',
        'unit = ""',
        CORPUS,
    ),
    Fault(WRITER, 'if how.by_movement != (how.clock == "work_rest"):', "if how.by_movement:", CORPUS),
    Fault(
        WRITER,
        'man, woman = (format(Decimal(repr(each)), "f").removesuffix(".0") for each in kg)',
        'man, woman = (f"{each:g}" for each in kg)',
        WORDS,
    ),
    Fault(SETS, "if self.count not in {None, count}:", "if False:", CORPUS),
    Fault(
        SETS,
        "(self.groups[-1].said if self.open else self.each)[key] = value",
        "self.each[key] = value",
        CORPUS,
    ),
    Fault(SETS, "if len(units) > 1:", "if False:", CORPUS),
    Fault(SETS, 'usual = {"form": "back_off" if self.then else falls}', 'usual = {"form": falls}', CORPUS),
    Fault(LIFTS, "said.sets.open = False", "pass", CORPUS),
    Fault(LIFTS, "group.reps = tuple(reps * factor for reps in group.reps)", "pass", CORPUS),
    Fault(
        SCHEMES,
        'goals: tuple[Goal, ...] = ("skill",) if kind == "skill" else movement.goals or ("assistance",)',
        "goals: tuple[Goal, ...] = movement.goals",
        WORDS,
    ),
    Fault(WORKS, "if before != node:", "if False:", CORPUS),
    Fault(WORKS, 'spot = "turn" if how in _STARTS_TURNS and rule != "intervals" else spot', "pass", WORDS),
    Fault(WORKS, "if len(doses) > 1:", "if False:", CORPUS),
    Fault(
        RUNNING,
        'movements = sum(line.spot == "turn" for line in lines) or 1',
        "movements = len(lines)",
        f"{CORPUS} {WORDS}",
        unseen="no text has another spot on such a clock",
    ),
    Fault(RUNNING, "if len(found) > 1:", "if False:", CORPUS),
    Fault(RUNNING, "if not every_s or whole_s % every_s:", "if False:", CORPUS),
    Fault(PARTS, "step = by if end >= start else -by", "step = by", CORPUS),
    Fault(PARTS, 'if movement.sides == "alternating":', "if False:", CORPUS),
    Fault(
        VOCABULARY,
        "words |= {key: Word(kind, (value,)) for key, (kind, value) in keywords().items()}",
        "words = {key: Word(kind, (value,)) for key, (kind, value) in keywords().items()} | words",
        WORDS,
    ),
    Fault(
        VOCABULARY,
        "return next((m for m in movements if unit in {None, self.movements[m].unit}), None)",
        "return next(iter(movements), None)",
        CORPUS,
    ),
    Fault(VOCABULARY, "if not within and (not near or near[0][1] < NEAR):", "if False:", f"{CORPUS} {WORDS}"),
    Fault(
        NEAREST, "return sorted(near, key=lambda found: found[1], reverse=True)", "return near[::-1]", CORPUS
    ),
    Fault(
        GRAMMAR,
        'ways: tuple[Brackets, ...] = ("signs", "commas")',
        'ways: tuple[Brackets, ...] = ("signs",)',
        CORPUS,
    ),
    Fault(
        DRAFTS,
        'lettered = len(set(self.labels)) < len(self.labels) and "" not in self.labels',
        "lettered = False",
        CORPUS,
    ),
    Fault(
        FAULTS_OF,
        "if other and (not three or _likeness(word, other) > _likeness(word, three[0])):",
        "if other and not three:",
        CORPUS,
    ),
    Fault(FILES, "problems += _days_twice(sessions, node)", "pass", PUBLISHED),
    Fault(FILES, "kit = vocabulary.kit_words.get(compact(str(key)), key)", "kit = key", PUBLISHED),
    Fault(
        f"{ROOM}session.lark",
        "cap: CAP SEP* DURATION | DURATION CAP",
        "cap: CAP DURATION | DURATION CAP",
        f"{CORPUS} {PUBLISHED}",
    ),
)
