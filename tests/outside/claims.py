#!/usr/bin/env python3
"""Whether the checker of certificates can be fooled, and whether it finds what the compiler finds.

    claims.py strengthen SITE N SEED     N labels of a site's certificates, one at a time, are made to claim more: each is refused
    claims.py verdicts FILE              certificates of libraries good and bad, with what the compiler found: where the two differ
"""
import json, pathlib, random, sys

from certificate import PERSONS, check, check_site


def strengthenings(certificate):
    """Every label as (what holds it, key), and what it could claim beyond: functions that change it."""
    full = {c["id"]: (c["takes"] or {}).get("seconds") or 4 * 3600 for c in certificate["flow"]["conditions"] if c["takes"]}
    plain = [c["id"] for c in certificate["flow"]["conditions"] if not c["takes"]]
    within, hazards = certificate["flow"]["cautionWithin"], [h["id"] for h in certificate["flow"]["hazards"]]
    for claim in certificate["claims"]:
        for context in claim["contexts"]:
            places = [(context, "entry")] + [(context["steps"], s) for s in context["steps"]] + [(context["exits"], o) for o in context["exits"]]
            for holder, key in places:
                state = holder[key]
                if key != "entry":
                    yield holder, "label taken out", key, None
                edit = lambda kind, field, value: (holder, kind, key, {**state, field: value})
                for hazard in hazards:
                    age = state["ages"].get(hazard)
                    younger = ["over"] if age is None else [[within["steps"], within["seconds"]]] if age == "over" else \
                        [a for a in ([age[0] - 1, age[1]], [age[0], age[1] - 1]) if min(a) >= 0]
                    for value in younger + ([[0, 0]] if age not in (None, [0, 0]) else []):
                        yield edit("age younger", "ages", {**state["ages"], hazard: value})
                for condition in plain:
                    if condition not in state["holds"]:
                        yield edit("condition holds", "holds", state["holds"] + [condition])
                    if condition in state["mayHold"]:
                        yield edit("cannot hold", "mayHold", [c for c in state["mayHold"] if c != condition])
                for condition, most in full.items():
                    waited = state["waited"].get(condition, 0)
                    if waited < most:
                        yield edit("waited more", "waited", {**state["waited"], condition: waited + 1})
                    if state["mayWaited"].get(condition):
                        yield edit("waited at most less", "mayWaited", {**state["mayWaited"], condition: state["mayWaited"][condition] - 1})
                for person in PERSONS[PERSONS.index(state["person"]) + 1:]:
                    yield edit("person higher", "person", person)
                if not state["checked"]:
                    yield edit("checked", "checked", True)
                if state["uncheckedCure"]:
                    yield edit("no unchecked cure", "uncheckedCure", False)


def strengthen(certificates, count, seed):
    """Claims more, one label at a time: how often that was noticed, by kind, and what was not."""
    every = [(c, e) for c in certificates for e in strengthenings(c)]
    chosen = random.Random(seed).sample(every, min(count, len(every))) if count else every
    kinds, survivors = {}, []
    for certificate, (holder, kind, key, label) in chosen:
        before = holder.pop(key)
        if label is not None:
            holder[key] = label
        try:
            noticed = bool(check(certificate)[0])
        finally:
            holder[key] = before
        tally = kinds.setdefault(kind, [0, 0])
        tally[0], tally[1] = tally[0] + noticed, tally[1] + 1
        if not noticed:
            survivors.append(f"{certificate['procedure']} {key}: {kind}")
    return {"possible": len(every), "tried": len(chosen), "noticed": len(chosen) - len(survivors), "kinds": kinds, "survivors": survivors}


def verdicts(entries):
    """Certificates of libraries good and bad, each with what the compiler found: where the two do not find the same,
    and what is unsafe where a task is carried out though it, its caller and all between are safe from their own starts."""
    result = {"certificates": len(entries), "unsafe": 0, "findings": 0, "sound": 0, "differ": [], "inside": []}
    known = {entry["name"]: {(step, subject) for step, _, subject in entry["own"]} for entry in entries}
    for entry in entries:
        forged, unsafe = check(entry["certificate"])
        own = {(step, rule, subject or "") for number, _, step, rule, subject in unsafe if number == 0}
        # Of one step and hazard at most one of the two, whatever the models.
        own -= {(step, "caution-out-of-date", subject) for step, rule, subject in own if rule == "caution-missing"}
        theirs = {tuple(finding) for finding in entry["own"]}
        result["unsafe"] += bool(theirs)
        result["findings"] += len(theirs)
        if forged or own != theirs:
            result["differ"].append({"name": entry["name"], "forged": forged[:5], "only here": sorted(own - theirs), "only there": sorted(theirs - own)})
        within = {context["procedure"] for claim in entry["certificate"]["claims"] for context in claim["contexts"]}
        if all(not known.get(entry["name"].rsplit(" ", 1)[0] + " " + procedure, True) for procedure in within):
            result["sound"] += 1
            result["inside"] += [[entry["name"], *one] for one in unsafe if one[0]]
    return result


if __name__ == "__main__":
    if sys.argv[1] == "verdicts":
        print(json.dumps({name: verdicts(entries) for name, entries in json.loads(pathlib.Path(sys.argv[2]).read_bytes()).items()}))
    else:
        print(json.dumps(strengthen(check_site(sys.argv[2])[1], int(sys.argv[3]), int(sys.argv[4]))))
