#!/usr/bin/env python3
"""A second, small checker of `procedures/ID.certificate.json`, written from the handbook of the safety analysis and sharing nothing with the compiler.

It searches nothing and looks for no fixed point. For each context of a certificate it asks: is what is claimed at the start implied by the entry; does
each way on from each step lead to no less than is claimed where it leads; and does what the step demands hold in what is claimed at the step.

    certificate.py SITE     every certificate of a site, and that it tells the flow of its page; exit status 1 if one is refused
"""
import json, pathlib, re, sys

PERSONS = ["ordinary", "instructed", "skilled"]


class State:
    """ages: absent never, 'over', or [steps, seconds]. sure and may: condition -> level, 1 or the seconds waited, absent 0."""

    def __init__(self, ages, sure, may, person, checked, uncured):
        self.ages, self.sure, self.may, self.person, self.checked, self.uncured = dict(ages), dict(sure), dict(may), person, checked, uncured

    @staticmethod
    def read(claim):
        level = lambda held, waited: {**{c: 1 for c in held}, **waited}
        return State(claim["ages"], level(claim["holds"], claim["waited"]), level(claim["mayHold"], claim["mayWaited"]),
                     PERSONS.index(claim["person"]), claim["checked"], claim["uncheckedCure"])

    def copy(self):
        return State(self.ages, self.sure, self.may, self.person, self.checked, self.uncured)

    def unsupported(self, claim):
        """What `claim` says beyond what this state gives."""
        bare = [f"age of {h}" for h, age in claim.ages.items() if not no_older(self.ages.get(h, "never"), age)]
        bare += [f"holds {c}" for c, level in claim.sure.items() if self.sure.get(c, 0) < level]
        bare += [f"cannot hold {c}" for c, level in self.may.items() if level > claim.may.get(c, 0)]
        return bare + ["person"] * (self.person < claim.person) + ["checked"] * (claim.checked and not self.checked) + \
            ["cure checked"] * (self.uncured and not claim.uncured)


def no_older(found, claimed):
    if claimed == "never" or found == claimed:
        return True
    if found == "never" or (claimed != "over" and found == "over"):
        return False
    return claimed == "over" or (found[0] <= claimed[0] and found[1] <= claimed[1])


class Machine:
    """The catalogue on one model, and what it makes of a state. `say(rule, subject)` hears what must not be."""

    def __init__(self, certificate, model):
        flow = certificate["flow"]
        self.model, self.flow, self.referred = model, flow, certificate["referred"]
        self.figures = next((m["figures"] for m in flow["models"] if m["id"] == model), {})
        self.conditions = {c["id"]: dict(c) for c in flow["conditions"]}
        self.hazards = {h["id"]: h for h in flow["hazards"]}
        self.within = flow["cautionWithin"]
        for one in self.conditions.values():
            takes = one["takes"]
            one_model = None if takes is None else takes["seconds"] if takes["seconds"] is not None else takes["byModel"].get(model, 4 * 3600)
            one["full"] = 1 if takes is None else max(1, one_model)

    def holds(self, levels, condition):
        return levels.get(condition, 0) >= self.conditions[condition]["full"]

    def grow(self, state, seconds):
        for hazard, age in state.ages.items():
            if age != "over":
                older = [age[0] + 1, age[1] + seconds]
                state.ages[hazard] = "over" if older[0] > self.within["steps"] or older[1] > self.within["seconds"] else older

    def clear(self, state, condition, surely=True):
        state.sure.pop(condition, None)
        if surely:
            state.may.pop(condition, None)
        for hazard in self.hazards.values():
            if condition in hazard["requires"]:
                state.ages.pop(hazard["id"], None)
        for later in self.conditions.values():
            if later["after"] == condition:
                self.clear(state, later["id"], surely)

    def set(self, state, condition, shown, by_do, say):
        one = self.conditions[condition]
        if one["triedOut"] and by_do:
            say("not-tried-out", condition)
        after = one["after"]
        if after and not self.holds(state.sure, after):
            say("condition-not-met", after)
        if one["takes"] is not None and not shown:
            return say("wait-too-short", condition)
        if after and not self.holds(state.may, after):
            return
        surely = not after or self.holds(state.sure, after)
        if surely:
            state.sure[condition] = one["full"]
        state.may[condition] = one["full"]
        for cleared in one["clears"]:
            self.clear(state, cleared, surely)
        for hazard in self.hazards.values():
            if condition in hazard["returnsWith"]:
                state.ages.pop(hazard["id"], None)

    def wait(self, state, seconds):
        for levels in (state.sure, state.may):
            begun = [c for c in self.conditions.values() if c["takes"] is not None and c["after"] and self.holds(levels, c["after"])]
            for one in begun if seconds else []:
                levels[one["id"]] = min(one["full"], levels.get(one["id"], 0) + seconds)

    def waiting(self, step):
        awaited = self.conditions.get(step["waitFor"])
        return awaited["full"] if awaited and awaited["takes"] is not None else 0

    def change(self, state, step, say):
        """Waits, then the step's own clears and sets."""
        self.wait(state, step["wait"] or 0)
        after = step["waitFor"] and self.conditions[step["waitFor"]]["after"]
        if after and not self.holds(state.sure, after):
            say("condition-not-met", after)
        self.wait(state, self.waiting(step))
        for condition in step["clears"]:
            self.clear(state, condition)
        for condition in step["sets"]:
            self.set(state, condition, False, True, say)

    def step(self, state, step, say):
        for hazard in step["cautions"]:
            state.ages[hazard] = [0, 0]
        then = state.copy()
        self.change(then, step, lambda *_: None)
        for exposure in step["exposes"]:
            hazard, waived = self.hazards[exposure["hazard"]], exposure["waived"]
            age = state.ages.get(hazard["id"], "never")
            if age == "never":
                say("caution-missing", hazard["id"])
            elif age == "over" or age[0] > self.within["steps"] or age[1] > self.within["seconds"]:
                say("caution-out-of-date", hazard["id"])
            kept = all(self.holds(state.sure, c) and self.holds(then.sure, c) for c in hazard["requires"])
            if not kept and not waived["requires"]:
                say("hazard-uncontrolled", hazard["id"])
            self.asks(state, hazard["least"], hazard["id"], say if not waived["least"] else lambda *_: None)
        self.asks(state, step["least"], step["least"], say)
        needs = list(step["requires"])
        if step["callee"]:
            callee = self.flow["procedures"][step["callee"]]
            needs += callee["requires"]
            self.asks(state, callee["for"], callee["for"], say)
        referred = step["referTo"] and self.referred.get(step["referTo"]["id"])
        if referred:
            self.asks(state, referred["for"], referred["for"], say)
        for condition in needs:
            if not self.holds(state.sure, condition):
                say("condition-not-met", condition)
        self.change(state, step, say)
        if step["cures"] and not step["callee"]:
            state.checked, state.uncured = False, True

    def asks(self, state, least, subject, say):
        if state.person < PERSONS.index(least or "ordinary"):
            say("beyond-competence", subject)

    def number(self, limit):
        return float(limit["value"] if limit["value"] is not None else self.figures[limit["figure"]]["value"])

    def leave(self, state, step, way, say):
        """What the way itself changes. A band ends whatever the measurement sets and its own readings do not show."""
        bands = [w for w in step["ways"] if w["kind"] == "band"]
        shown = lambda condition: False
        if way["kind"] == "band":
            at, measure = bands.index(way), step["measure"]
            low = float(measure["from"]) if at == 0 else self.number(bands[at - 1]["limit"])
            high = float(measure["to"]) if way["limit"] is None else self.number(way["limit"])

            def shown(condition):
                by = self.conditions[condition]["shownBy"]
                return bool(by) and by["unit"] == measure["unit"] and high <= float(by["upTo"]) and (by["from"] is None or float(by["from"]) <= low)

            for condition in [c for band in bands for c in band["sets"]]:
                if self.conditions[condition]["shownBy"] and not shown(condition):
                    self.clear(state, condition)
        for condition in way["clears"]:
            self.clear(state, condition)
        for condition in way["sets"]:
            self.set(state, condition, shown(condition), False, say)
        if way["person"]:
            state.person = PERSONS.index(way["person"])
        if way["fixed"]:
            state.checked, state.uncured = True, False

    def ending(self, state, step, say):
        for one in self.conditions.values():
            if one["mustClear"] and self.holds(state.may, one["id"]):
                say("left-behind", one["id"])
        if (step["outcome"] == "fixed" and not state.checked) or (step["outcome"] == "no-fault" and state.uncured):
            say("fixed-unchecked", None)

    def start(self, procedure):
        levels = {}
        for condition in procedure["requires"]:
            while condition:
                levels[condition] = self.conditions[condition]["full"]
                condition = self.conditions[condition]["after"]
        return State({}, levels, levels, PERSONS.index(procedure["for"]), False, False)


def check_context(machine, contexts, number, forged, unsafe):
    context = contexts[number]
    procedure = machine.flow["procedures"][context["procedure"]]
    claimed = {step: State.read(state) for step, state in context["steps"].items()}
    exits = {outcome: State.read(state) for outcome, state in context["exits"].items()}

    def lead(state, claims, target, where):
        if target not in claims:
            forged.append(f"{where}: nothing is claimed at {target}")
        else:
            forged.extend(f"{where} -> {target}: {bare}" for bare in state.unsupported(claims[target]))

    lead(State.read(context["entry"]), claimed, procedure["start"], "entry")
    for name, claim in claimed.items():
        step, state = procedure["steps"][name], claim.copy()
        say = lambda rule, subject: unsafe.append((number, context["procedure"], name, rule, subject))
        ways = step["ways"]
        if step["kind"] == "by-model":
            own = [w for w in ways if w["text"] == machine.model] or [w for w in ways if w["text"] == "others"]
            ways = own + [w for w in ways if w["kind"] != "model"]
        else:
            machine.step(state, step, say)
        returned = {}
        if step["callee"]:
            entry = state.copy()
            machine.grow(entry, 0)
            called = contexts[context["calls"][name]]
            if called["procedure"] != step["callee"]:
                forged.append(f"{name}: another procedure is entered")
            forged.extend(f"{name} -> {step['callee']}: {bare}" for bare in entry.unsupported(State.read(called["entry"])))
            returned = {outcome: State.read(exit) for outcome, exit in called["exits"].items()}
        taken = (60 if step["seconds"] is None else step["seconds"]) + (step["wait"] or 0) + machine.waiting(step)
        for way in ways:
            after = claim.copy()
            if way["kind"] == "outcome":
                if way["text"] not in returned:
                    continue
                after = returned[way["text"]].copy()
                if step["cures"]:
                    after.checked, after.uncured = False, True
                machine.leave(after, step, way, say)
            elif way["kind"] not in ("otherwise", "model"):
                after = state.copy()
                machine.leave(after, step, way, say)
                machine.grow(after, taken)
            lead(after, claimed, way["then"], name)
        if step["outcome"]:
            if procedure["kind"] != "task":
                machine.ending(state, step, say)
            after = state.copy()
            machine.grow(after, taken)
            lead(after, exits, step["outcome"], name)


def check(certificate):
    """What is claimed without support, and what is demanded and does not hold: (context, procedure, step, rule, subject)."""
    forged, unsafe = [], []
    flow = certificate["flow"]
    main = flow["procedures"][certificate["procedure"]]
    if certificate["schema"] != "stepward/certificate/1" or flow["procedure"] != certificate["procedure"]:
        forged.append("not a certificate of this procedure")
    if sorted(m for claim in certificate["claims"] for m in claim["models"]) != sorted(main["models"]):
        forged.append("the models of the claims are not those of the procedure")
    for claim in certificate["claims"]:
        for model in claim["models"] or [None]:
            machine = Machine(certificate, model)
            if claim["contexts"][0]["procedure"] != certificate["procedure"]:
                forged.append("the first context is another procedure's")
            forged.extend(f"start: {bare}" for bare in machine.start(main).unsupported(State.read(claim["contexts"][0]["entry"])))
            for number in range(len(claim["contexts"])):
                check_context(machine, claim["contexts"], number, forged, unsafe)
    return forged, unsafe


def told_alike(data, flow, where=""):
    """Where the flow of a certificate says anything else than the data in the page."""
    if isinstance(flow, dict) and isinstance(data, dict):
        return [x for key in flow for x in told_alike(data.get(key, "nothing"), flow[key], f"{where}/{key}")]
    if isinstance(flow, list) and isinstance(data, list) and len(flow) == len(data):
        return [x for i, one in enumerate(flow) for x in told_alike(data[i], one, f"{where}/{i}")]
    return [] if flow == data else [where]


def check_site(site):
    """How many certificates are accepted, and why others are not; and the certificates."""
    result, certificates = {"pages": 0, "accepted": 0, "states": 0, "refused": []}, []
    for page in sorted(pathlib.Path(site, "procedures").glob("*.html")):
        embedded = re.search(r'<script type="application/json" id="flow-data">(.*?)</script>', page.read_text(encoding="utf-8"), re.S)
        if not embedded:
            continue  # withdrawn: nothing to follow
        data = json.loads(embedded.group(1))
        certificate = json.loads(page.with_suffix(".certificate.json").read_bytes())
        forged, unsafe = check(certificate)
        main = data["procedures"][data["procedure"]]
        same = (data["edition"], data["procedure"], main["revision"]) == tuple(certificate[k] for k in ("edition", "procedure", "revision"))
        faults = forged + unsafe + told_alike(data, certificate["flow"]) + ["not of this page"] * (not same)
        result["pages"] += 1
        result["accepted"] += not faults
        result["states"] += sum(len(c["steps"]) + len(c["exits"]) + 1 for claim in certificate["claims"] for c in claim["contexts"])
        result["refused"] += [f"{page.stem}: {fault}" for fault in faults[:5]]
        certificates.append(certificate)
    return result, certificates


if __name__ == "__main__":
    outcome, _ = check_site(sys.argv[1])
    print(json.dumps(outcome))
    sys.exit(bool(outcome["refused"]))
