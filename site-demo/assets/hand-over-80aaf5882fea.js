"use strict";
(function () {
const modules = {};
modules["script/clock.js"] = (function () {
const CLOCKS_APART_MS = 2000;
const BREAK_MS = 15 * 60 * 1000;
const DEAD_MS = 300;
function surelyPassed(from, to) {
return Math.max(0, Math.min(to.wall - from.wall, to.running - from.running));
}
function perhapsPassed(from, to) {
const wall = to.wall - from.wall;
const running = to.running - from.running;
return Math.max(0, wall, running);
}
function clocksAgree(from, to) {
return Math.abs(to.wall - from.wall - (to.running - from.running)) <= CLOCKS_APART_MS;
}
function dayOf(clock) {
return new Date(clock.wall).toISOString().slice(0, 10);
}
return { CLOCKS_APART_MS, BREAK_MS, DEAD_MS, surelyPassed, perhapsPassed, clocksAgree, dayOf };
})();
modules["script/decimal.js"] = (function () {
function decimalOf(written) {
const parts = /^(-?)(\d+)(?:\.(\d+))?(?:e([+-]?\d+))?$/.exec(String(written));
if (!parts) throw new TypeError(`not a decimal: ${written}`);
const [, minus, whole, fraction = "", exponent = "0"] = parts;
let digits = BigInt(whole + fraction);
let scale = fraction.length - Number(exponent);
if (scale < 0) {
digits *= 10n ** BigInt(-scale);
scale = 0;
}
return { digits: minus ? -digits : digits, scale };
}
function sameScale(left, right) {
const scale = Math.max(left.scale, right.scale);
const raise = (value) => value.digits * 10n ** BigInt(scale - value.scale);
return [raise(left), raise(right), scale];
}
function compareDecimals(left, right) {
const [a, b] = sameScale(decimalOf(left), decimalOf(right));
return a < b ? -1 : a > b ? 1 : 0;
}
function decimalsWithin(left, right, reach) {
const [a, b, scale] = sameScale(decimalOf(left), decimalOf(right));
const gap = { digits: a < b ? b - a : a - b, scale };
const [apart, allowed] = sameScale(gap, decimalOf(reach));
return apart <= allowed;
}
return { decimalOf, compareDecimals, decimalsWithin };
})();
modules["script/formula.js"] = (function () {
const OF_TWO = {
"+": (a, b) => a + b, "-": (a, b) => a - b, "*": (a, b) => a * b, "/": (a, b) => a / b, "^": (a, b) => Math.pow(a, b),
min: (a, b) => Math.min(a, b), max: (a, b) => Math.max(a, b),
};
const OF_ONE = {
neg: (a) => -a, abs: Math.abs, sqrt: Math.sqrt, exp: Math.exp, ln: Math.log, floor: Math.floor, ceil: Math.ceil,
round: (a) => Math.floor(a + 0.5),
};
function evaluateFormula(tokens, values) {
const stack = [];
for (const token of tokens) {
const value = valueOf(token, values, stack);
if (!Number.isFinite(value)) return null;
stack.push(value);
}
return stack.length === 1 ? stack[0] : null;
}
function valueOf(token, values, stack) {
if (typeof token === "number") return token;
if (token.startsWith("$")) return Object.hasOwn(values, token.slice(1)) ? values[token.slice(1)] : NaN;
const right = stack.pop() ?? NaN;
if (Object.hasOwn(OF_ONE, token)) return OF_ONE[token](right);
return Object.hasOwn(OF_TWO, token) ? OF_TWO[token](stack.pop() ?? NaN, right) : NaN;
}
return { evaluateFormula };
})();
modules["script/reading.js"] = (function () {
const { compareDecimals, decimalsWithin } = modules["script/decimal.js"];
const { evaluateFormula } = modules["script/formula.js"];
function readNumber(typed, field) {
const text = typed.trim().replace(/^\u2212/, "-");
const refused = (reason) =>
({ reason, field: field.id, from: field.from, to: field.to, unit: field.unit });
if (text === "") return refused("empty");
if (/[^\d.,+-]/.test(text)) return refused("letters");
const digits = text.replace(/^-/, "");
if (/[+-]/.test(digits) || (digits !== text && compareDecimals(field.from, "0") >= 0)) return refused("sign");
if (!/^\d{1,20}([.,]\d{1,20})?$/.test(digits)) return refused("separators");
const value = plain((digits === text ? "" : "-") + digits.replace(",", "."));
if (compareDecimals(value, field.from) < 0 || compareDecimals(value, field.to) > 0) {
return { ...refused("range"), meant: likelySlips(value, field) };
}
if (field.whole && value.includes(".")) return refused("whole");
return { value };
}
function plain(decimal) {
const short = decimal.replace(/^(-?)0+(?=\d)/, "$1");
return short.includes(".") ? short.replace(/\.?0+$/, "") : short;
}
function likelySlips(value, field) {
const number = Number(value);
const slips = [[number / 10, "ten"], [number * 10, "ten"]];
if (field.unit === "mm") slips.push([number * 25.4, "inch"]);
return slips
.map(([slip, because]) => ({ value: String(Math.round(slip * 100) / 100), because }))
.filter(({ value: slip }) => /^-?\d+(\.\d+)?$/.test(slip))
.filter(({ value: slip }) => compareDecimals(slip, field.from) >= 0 && compareDecimals(slip, field.to) <= 0)
.filter(({ value: slip }) => !field.whole || !slip.includes("."));
}
function fieldsOf(step) {
const { unit, from, to, readings } = step.measure;
return readings.length > 0 ? readings : [{ id: "value", unit, from, to }];
}
const LENGTHS = ["mm", "cm", "m", "in"];
const MOST_GAPS = 20;
const MOST_READINGS = 5;
function repeatable(step) {
const { unit, readings } = step.measure;
return readings.length === 0 && LENGTHS.includes(unit) && !step.ways.some((way) => way.sets.length + way.clears.length > 0);
}
function readingName(n) {
return n === 1 ? "value" : `value-${n}`;
}
function takenReadings(step, typed) {
const values = {};
const places = {};
if (!repeatable(step)) {
for (const field of fieldsOf(step)) {
const read = readNumber(typed[field.id] ?? "", field);
if ("reason" in read) return read;
values[field.id] = read.value;
if (!field.whole && field.unit !== "") places[field.id] = lastPlace(typed[field.id]);
}
return { values, places, single: [], spread: null };
}
const [field] = fieldsOf(step);
const gaps = readNumber(typed.gaps === undefined || typed.gaps === "" ? "1" : typed.gaps, { id: "gaps", unit: "", from: "1", to: String(MOST_GAPS), whole: true });
if ("reason" in gaps) return gaps;
const times = Number(gaps.value);
const names = Array.from({ length: MOST_READINGS }, (_, place) => readingName(place + 1)).filter((name, place) => place === 0 || (typed[name] ?? "").trim() !== "");
const single = [];
for (const name of names) {
const wide = { ...field, id: name, from: String(Number(field.from) * times), to: String(Number(field.to) * times) };
const read = readNumber(typed[name] ?? "", wide);
if ("reason" in read) return read;
single.push(Number(read.value) / times);
}
const mean = single.reduce((sum, value) => sum + value, 0) / single.length;
const exact = single.length === 1 && times === 1 ? readNumber(typed.value, field) : null;
values.value = exact !== null && "value" in exact ? exact.value : String(Math.round(mean * 1000) / 1000);
places.value = lastPlace(typed.value) / times;
const spread = single.length > 1 ? String(Math.round((Math.max(...single) - Math.min(...single)) * 1000) / 1000) : null;
return { values, places, single: single.map((value) => String(Math.round(value * 1000) / 1000)), spread };
}
function lastPlace(typed) {
const places = typed.trim().split(/[.,]/)[1]?.length ?? 0;
return 10 ** -places;
}
function nearAnEdge(step, values, places, model, index) {
return fieldsOf(step).some((field) => {
const place = places[field.id];
if (place === undefined) return false;
return [-place, place].some((change) => {
const moved = Math.round((Number(values[field.id]) + change) * 1e6) / 1e6;
if (moved < Number(field.from) || moved > Number(field.to)) return false;
const result = measuredValue(step, { ...values, [field.id]: String(moved) }, model);
if ("reason" in result) return false;
const other = wayOfValue(step, result.value, model);
return other >= 0 && deed(step.ways[other]) !== deed(step.ways[index]);
});
});
}
function deed(way) {
return JSON.stringify([way.then, way.sets, way.clears]);
}
function measuredValue(step, values, model) {
const { unit, from, to, readings, formula } = step.measure;
if (readings.length === 0) return { value: values.value };
const names = Object.fromEntries(Object.entries(model?.figures ?? {}).map(([name, figure]) => [name, Number(figure.value)]));
for (const { id } of readings) names[id] = Number(values[id]);
const result = formula?.rpn ? evaluateFormula(formula.rpn, names) : null;
if (result === null) return { reason: "no-value", field: readings[0].id };
if (compareDecimals(result, from) < 0 || compareDecimals(result, to) > 0) {
return { reason: "range", field: readings[0].id, from, to, unit };
}
return { value: String(result) };
}
function edgeOf(limit, model) {
return limit.value ?? model?.figures[limit.figure]?.value ?? null;
}
function wayOfValue(step, value, model) {
return step.measure.match ? matchedWay(step, value, model) : bandOf(step, value, model);
}
function bandOf(step, value, model) {
for (const [index, way] of step.ways.entries()) {
if (way.kind !== "band") continue;
if (way.limit === null) return index;
const edge = edgeOf(way.limit, model);
if (edge === null) return -1;
const side = compareDecimals(value, edge);
if (side < 0 || (side === 0 && way.limit.inside)) return index;
}
return -1;
}
function matchedWay(step, value, model) {
const { within } = step.measure.match;
const named = (name) => step.ways.findIndex((way) => way.kind === "part" && way.text === name);
const hits = [...step.ways.entries()].filter(([, way]) => {
const entry = way.kind === "part" && Object.hasOwn(model?.repeats ?? {}, way.text) ? model.repeats[way.text] : null;
return entry !== null && decimalsWithin(value, entry.value, within);
});
if (hits.length === 0) return named("none");
return hits.every(([, way]) => way.then === hits[0][1].then) ? hits[0][0] : named("several");
}
function bandShows(step, index, shownBy, model) {
if (!shownBy || shownBy.unit !== step.measure.unit) return false;
const bands = step.ways.filter((way) => way.kind === "band");
const place = bands.indexOf(step.ways[index]);
const lower = place === 0 ? step.measure.from : edgeOf(bands[place - 1].limit, model);
const upper = bands[place].limit === null ? step.measure.to : edgeOf(bands[place].limit, model);
if (lower === null || upper === null) return false;
const low = shownBy.from === null || compareDecimals(lower, shownBy.from) >= 0;
return low && compareDecimals(upper, shownBy.upTo) <= 0;
}
return { readNumber, fieldsOf, MOST_GAPS, MOST_READINGS, repeatable, readingName, takenReadings, nearAnEdge, measuredValue, wayOfValue, bandShows };
})();
modules["script/facts.js"] = (function () {
const { bandShows } = modules["script/reading.js"];
const PERSONS = ["ordinary", "instructed", "skilled"];
function qualified(person, least) {
return least === null || PERSONS.indexOf(person) >= PERSONS.indexOf(least);
}
function lowerPerson(one, other) {
return qualified(one, other) ? other : one;
}
function firstFacts(person) {
return { ages: {}, holds: [], mayHold: [], waited: {}, person, checked: false, uncheckedCure: false };
}
function cautionFresh(flow, facts, hazard) {
if (!Object.hasOwn(facts.ages, hazard)) return false;
const age = facts.ages[hazard];
return age.steps <= flow.cautionWithin.steps && age.ms <= flow.cautionWithin.seconds * 1000;
}
function agedBy(facts, ms) {
return { ...facts, ages: mapAges(facts.ages, (age) => ({ steps: age.steps, ms: age.ms + ms })) };
}
function agedByStep(facts) {
return { ...facts, ages: mapAges(facts.ages, (age) => ({ steps: age.steps + 1, ms: age.ms })) };
}
function mapAges(ages, change) {
return Object.fromEntries(Object.entries(ages).map(([hazard, age]) => [hazard, change(age)]));
}
function cautionShown(facts, hazard) {
return { ...facts, ages: { ...facts.ages, [hazard]: { steps: 0, ms: 0 } } };
}
function cautionsVoid(facts) {
return { ...facts, ages: {} };
}
function conditionOf(flow, id) {
return flow.conditions.find((condition) => condition.id === id);
}
function cleared(flow, facts, id, seen = []) {
if (seen.includes(id)) return facts;
const without = (list) => list.filter((other) => other !== id);
const voided = flow.hazards.filter((hazard) => hazard.requires.includes(id));
let next = { ...facts, holds: without(facts.holds), mayHold: without(facts.mayHold), waited: { ...facts.waited, [id]: 0 }, ages: withoutAges(facts.ages, voided) };
for (const later of flow.conditions) {
if (later.after === id) next = cleared(flow, next, later.id, [...seen, id]);
}
return next;
}
function withoutAges(ages, hazards) {
return Object.fromEntries(Object.entries(ages).filter(([id]) => !hazards.some((hazard) => hazard.id === id)));
}
function set(flow, facts, id, shown = false) {
const condition = conditionOf(flow, id);
if (!condition) return facts;
let next = facts;
for (const other of condition.clears) next = cleared(flow, next, other);
const returning = flow.hazards.filter((hazard) => hazard.returnsWith.includes(id));
next = { ...next, ages: withoutAges(next.ages, returning) };
if (condition.after !== null && !next.holds.includes(condition.after)) return next;
if (condition.takes !== null && !shown) return next;
const withId = (list) => (list.includes(id) ? list : [...list, id]);
return { ...next, holds: withId(next.holds), mayHold: withId(next.mayHold) };
}
function afterStep(flow, facts, step) {
let next = facts;
for (const id of step.clears) next = cleared(flow, next, id);
for (const id of step.sets) next = set(flow, next, id);
return step.cures.length > 0 ? { ...next, checked: false, uncheckedCure: true } : next;
}
function afterWay(flow, facts, step, index, models) {
const way = step.ways[index];
let next = facts;
for (const id of way.clears) next = cleared(flow, next, id);
if (way.kind === "band") next = afterReading(flow, next, step, index, models);
else for (const id of way.sets) next = set(flow, next, id);
if (way.person !== null) next = { ...next, person: way.person };
return way.fixed ? { ...next, checked: true, uncheckedCure: false } : next;
}
function afterReading(flow, facts, step, index, models) {
const decided = new Set(step.ways.filter((way) => way.kind === "band").flatMap((way) => way.sets));
const shows = (id) => models.every((model) => bandShows(step, index, conditionOf(flow, id)?.shownBy, model));
let next = facts;
for (const id of decided) {
if (conditionOf(flow, id)?.shownBy && !shows(id)) next = cleared(flow, next, id);
}
for (const id of step.ways[index].sets) next = set(flow, next, id, shows(id));
return next;
}
function takesMs(flow, id, models) {
const takes = conditionOf(flow, id)?.takes;
if (!takes) return 0;
const onModel = (model) => takes.seconds ?? takes.byModel[model?.id] ?? Infinity;
return Math.max(...models.map(onModel)) * 1000;
}
function waited(flow, facts, ms, models) {
let next = facts;
const running = flow.conditions.filter((condition) => condition.takes !== null && facts.holds.includes(condition.after));
for (const { id } of running) {
next = { ...next, waited: { ...next.waited, [id]: (Object.hasOwn(next.waited, id) ? next.waited[id] : 0) + ms } };
if (next.waited[id] >= takesMs(flow, id, models)) next = set(flow, next, id, true);
}
return next;
}
function afterBack(then, now) {
const both = Object.keys(then.waited).filter((id) => Object.hasOwn(now.waited, id));
return {
ages: now.ages,
holds: then.holds.filter((id) => now.holds.includes(id)),
mayHold: [...new Set([...then.mayHold, ...now.mayHold])],
waited: Object.fromEntries(both.map((id) => [id, Math.min(then.waited[id], now.waited[id])])),
person: lowerPerson(then.person, now.person),
checked: then.checked && now.checked,
uncheckedCure: then.uncheckedCure || now.uncheckedCure,
};
}
function afterBreak(flow, facts, person, confirmed) {
let next = { ...cautionsVoid(facts), person };
for (const id of facts.holds) {
if (!confirmed.includes(id)) next = cleared(flow, next, id);
}
return { ...next, mayHold: facts.mayHold };
}
function standsInTheWay(flow, facts, step, today) {
const after = afterStep(flow, facts, step);
const missing = [];
for (const { hazard: id, waived } of step.exposes) {
const hazard = flow.hazards.find((one) => one.id === id);
const holds = (need) => facts.holds.includes(need) && after.holds.includes(need);
if (!(waived.requires >= today)) missing.push(...hazard.requires.filter((need) => !holds(need)).map(asCondition));
if (!(waived.least >= today) && !qualified(facts.person, hazard.least)) missing.push(asPerson(hazard.least));
}
missing.push(...step.requires.filter((need) => !facts.holds.includes(need)).map(asCondition));
const before = step.waitFor === null ? null : conditionOf(flow, step.waitFor)?.after ?? null;
if (before !== null && !facts.holds.includes(before)) missing.push(asCondition(before));
if (!qualified(facts.person, step.least)) missing.push(asPerson(step.least));
return missing.filter((one, place) => missing.findIndex((other) => other.id === one.id) === place);
}
function asCondition(id) {
return { kind: "condition", id };
}
function asPerson(id) {
return { kind: "person", id };
}
return { PERSONS, qualified, firstFacts, cautionFresh, agedBy, agedByStep, cautionShown, cautionsVoid, cleared, set, afterStep, afterWay, takesMs, waited, afterBack, afterBreak, standsInTheWay };
})();
modules["script/run-state.js"] = (function () {
const { cautionFresh, takesMs } = modules["script/facts.js"];
function neverStarts(procedure) {
if (procedure.status === "withdrawn" || procedure.start === null) return { kind: "withdrawn", id: procedure.id };
return procedure.requires.length > 0 ? { kind: "task", id: procedure.id } : null;
}
function procedureOf(flow, state) {
return flow.procedures[state.frames.at(-1)?.procedure ?? flow.procedure];
}
function stepOf(flow, state) {
return state.step === null ? null : procedureOf(flow, state).steps[state.step] ?? null;
}
function possibleModels(flow, state) {
const ids = state.model === null ? flow.procedures[flow.procedure].models : [state.model];
const models = flow.models.filter((model) => ids.includes(model.id));
return models.length > 0 ? models : [null];
}
function countKey(run, step) {
return `${run.frames.at(-1).id}/${step}`;
}
function timesDone(run, step) {
return run.counts[countKey(run, step)] ?? 0;
}
function withCount(run, step) {
return { ...run, counts: { ...run.counts, [countKey(run, step)]: timesDone(run, step) + 1 } };
}
function handOver(run, missing, clock) {
const entry = { what: "hand-over", step: run.step, missing, at: clock.wall };
return { ...run, wait: null, screen: { name: "hand-over", missing }, log: [...run.log, entry] };
}
function cautionsDue(flow, run, step) {
const own = step.cautions.filter((id) => !run.arrival.shown.includes(id));
const needed = [...step.cautions, ...step.exposes.map((one) => one.hazard)];
const stale = needed.filter((id) => !cautionFresh(flow, run.facts, id));
return flow.hazards.map((hazard) => hazard.id).filter((id) => own.includes(id) || stale.includes(id));
}
function waitMs(flow, run, step) {
const plain = (step.wait ?? 0) * 1000;
const reached = step.waitFor === null || run.facts.holds.includes(step.waitFor);
return reached ? plain : Math.max(plain, takesMs(flow, step.waitFor, possibleModels(flow, run)));
}
function noted(run, step, index, reading, clock) {
const frame = run.frames.at(-1);
const told = run.caller && ["answer", "band", "part", "unsure"].includes(step.ways[index].kind) ? { told: true } : {};
const entry = { what: "way", procedure: frame.procedure, step: step.id, way: index, ...told, ...reading, at: clock.wall, depth: run.frames.length - 1 };
return { ...run, path: [...run.path, entry], log: [...run.log, entry] };
}
function withSnapshot(state, step, way) {
const { frames, facts, counts, path } = state;
const acts = step.sets.length + step.clears.length + step.cures.length + (way ? way.sets.length + way.clears.length : 0) > 0;
const again = state.arrival.again && step.kind === "do" ? withCount(state, step.id) : state;
const snapshot = { frames, step: state.step, facts, counts, path: path.length, deeds: acts ? [{ procedure: frames.at(-1).procedure, step: step.id }] : [] };
return { ...again, history: [...state.history, snapshot] };
}
function withDeed(run, call) {
const last = run.history.at(-1);
const deeds = [...last.deeds, { procedure: run.frames.at(-1).procedure, step: call.id }];
return { ...run, history: [...run.history.slice(0, -1), { ...last, deeds }] };
}
function leftBehind(flow, facts) {
return flow.conditions.filter((one) => one.mustClear && facts.mayHold.includes(one.id)).map((one) => one.id);
}
function notChecked(facts, step) {
const unproved = (step.outcome === "fixed" && !facts.checked) || (step.outcome === "no-fault" && facts.uncheckedCure);
return unproved ? [{ kind: "check", id: step.outcome }] : [];
}
function isAction(flow, state, then, key) {
const [frameId, step] = key.split("/");
const frame = [...state.frames, ...then.frames].find((one) => String(one.id) === frameId);
return !frame || ["do", "carry-out"].includes(flow.procedures[frame.procedure].steps[step]?.kind);
}
return { neverStarts, procedureOf, stepOf, possibleModels, timesDone, withCount, handOver, cautionsDue, waitMs, noted, withSnapshot, withDeed, leftBehind, notChecked, isAction };
})();
modules["script/flow-state.js"] = (function () {
const { BREAK_MS, clocksAgree, dayOf, DEAD_MS, perhapsPassed, surelyPassed } = modules["script/clock.js"];
const { afterBack, afterBreak, afterStep, afterWay, agedBy, agedByStep, cautionShown, firstFacts, PERSONS, qualified, standsInTheWay, waited } = modules["script/facts.js"];
const { fieldsOf, measuredValue, MOST_READINGS, nearAnEdge, readingName, repeatable, takenReadings, wayOfValue } = modules["script/reading.js"];
const { cautionsDue, handOver, isAction, leftBehind, neverStarts, notChecked, noted, possibleModels, procedureOf, stepOf, timesDone, waitMs, withCount, withDeed, withSnapshot } = modules["script/run-state.js"];
const MOST_SILENT_STEPS = 1000;
function begin(flow, clock) {
const never = neverStarts(flow.procedures[flow.procedure]);
return {
schema: "stepward/run/1", edition: flow.edition, screen: never === null ? { name: "start" } : { name: "refused", missing: [never] }, frames: [], step: null, arrival: { shown: [], counted: false, again: false },
facts: firstFacts("ordinary"), counts: {}, model: null, caller: false, about: { ticket: "", serial: "", counter: "" }, frameCount: 0,
path: [], log: [], history: [], notice: null, refusal: null, wait: null, typed: {}, last: clock, touched: clock, changed: longAgo(clock),
};
}
function longAgo(clock) {
return { wall: clock.wall - DEAD_MS, running: clock.running - DEAD_MS };
}
function advance(flow, state, event, clock) {
if (event.type === "restart") return { ...begin(flow, clock), changed: clock };
if (event.type === "reopen") return reopened(flow, state, clock);
const timed = withTime(state, clock);
if (event.type === "tick") return timed;
const since = clock.running - state.changed.running;
if (since >= 0 && since < DEAD_MS) return timed;
if (onBreak(state, event, clock)) return { ...paused(timed), touched: clock, changed: clock };
const handler = HANDLERS[timed.screen.name]?.[event.type] ?? HANDLERS.any[event.type];
const next = handler ? handler(flow, { ...timed, notice: null, refusal: null }, event, clock) : timed;
return sealed(state, next, clock);
}
function sealed(before, after, clock) {
const same = after.step === before.step && after.frames.length === before.frames.length && after.screen.name === before.screen.name && after.screen.hazard === before.screen.hazard && after.path.length === before.path.length;
return { ...after, touched: clock, changed: same ? before.changed : clock };
}
function withTime(state, clock) {
const facts = agedBy(state.facts, perhapsPassed(state.last, clock));
if (state.wait === null) return { ...state, facts, last: clock };
const wait = { ...state.wait, counted: state.wait.counted + surelyPassed(state.last, clock), doubt: state.wait.doubt || !clocksAgree(state.last, clock) };
return { ...state, facts, wait, last: clock };
}
function onBreak(state, event, clock) {
const atRest = ["ending", "hand-over"].includes(state.screen.name) && event.type !== "back";
return !atRest && !["start", "refused", "resume"].includes(state.screen.name) && perhapsPassed(state.touched, clock) > BREAK_MS;
}
function paused(state) {
return { ...state, screen: { name: "resume" }, typed: {}, notice: null, refusal: null };
}
function reopened(flow, state, clock) {
if (state.edition !== flow.edition) return { ...begin(flow, clock), notice: { name: "older-edition" } };
const now = { ...state, last: clock, touched: clock, changed: longAgo(clock) };
return ["start", "refused"].includes(state.screen.name) ? { ...begin(flow, clock) } : paused(now);
}
const HANDLERS = {
start: { start: started },
caution: { acknowledge: acknowledged },
step: { answer: answered, reading: measured, next: done, "begin-wait": waitBegun, meant: retyped },
wait: { next: waitOver },
resume: { confirm: resumed },
any: { back: wentBackSo, note: remarked, machine: identified, "take-over": (_flow, state) => (state.frames.length > 0 ? paused(state) : state) },
};
function started(flow, state, event, clock) {
const procedure = flow.procedures[flow.procedure];
const models = [...procedure.models, "unknown", ...(procedure.models.length < flow.models.length ? ["other"] : [])];
const modelSaid = flow.models.length === 0 || models.includes(event.model);
const missing = [!modelSaid && "model", !PERSONS.includes(event.person) && "person", typeof event.alone !== "boolean" && "alone", typeof event.caller !== "boolean" && "caller"].filter(Boolean);
if (missing.length > 0) return { ...state, typed: event, refusal: { reason: "unanswered", missing } };
const refuse = (why) => ({ ...state, screen: { name: "refused", missing: [why] } });
if (event.model === "other") return refuse({ kind: "model", id: procedure.id });
if (!event.alone) return refuse({ kind: "alone", id: procedure.id });
if (!qualified(event.person, procedure.for)) return refuse({ kind: "person", id: procedure.for });
const model = flow.models.length === 0 || event.model === "unknown" ? null : event.model;
const run = {
...state, model, caller: event.caller, about: aboutOf(event), facts: firstFacts(event.person), frames: [{ id: 0, procedure: flow.procedure, caller: null }], frameCount: 1,
log: [{ what: "start", model: event.model ?? null, person: event.person, caller: event.caller, at: clock.wall, ...aboutOf(event) }],
};
return arrived(flow, run, procedure.start, clock);
}
const LONGEST_TEXT = 200;
function aboutOf(event) {
const text = (value) => String(value ?? "").replace(/\s+/g, " ").trim().slice(0, LONGEST_TEXT);
return { ticket: text(event.ticket), serial: text(event.serial), counter: text(event.counter) };
}
function remarked(_flow, state, event, clock) {
const text = String(event.text ?? "").replace(/\s+/g, " ").trim().slice(0, LONGEST_TEXT);
if (text === "" || state.frames.length === 0) return state;
const entry = { what: "note", procedure: state.frames.at(-1).procedure, step: state.step, text, at: clock.wall };
return { ...state, log: [...state.log, entry] };
}
function identified(_flow, state, event, clock) {
const { serial } = aboutOf(event);
if (serial === "" || state.frames.length === 0) return state;
return { ...state, about: { ...state.about, serial }, log: [...state.log, { what: "machine", serial, at: clock.wall }] };
}
function arrived(flow, state, target, clock) {
let run = state;
let id = target;
for (let silent = 0; silent < MOST_SILENT_STEPS; silent++) {
const step = procedureOf(flow, run).steps[id];
run = { ...run, step: id, wait: null, typed: {}, arrival: { shown: [], counted: false, again: false } };
if (!step) return handOver(run, [{ kind: "step", id }], clock);
const limit = step.atMost !== null && timesDone(run, id) >= step.atMost;
const [next, missing] = limit ? byWay(run, step, step.ways.findIndex((way) => way.kind === "otherwise"), clock)
: step.kind === "by-model" ? byModel(flow, run, step, clock)
: step.kind === "carry-out" ? intoCallee(flow, run, step, clock)
: [null, null];
if (missing) return handOver(run, missing, clock);
if (next === null) return guarded(flow, run, clock);
run = next.run;
id = next.step;
}
return handOver(run, [{ kind: "step", id }], clock);
}
function byWay(run, step, index, clock) {
const way = step.ways[index];
if (!way) return [null, [{ kind: "way", id: step.id }]];
return [{ run: noted(run, step, index, {}, clock), step: way.then }, null];
}
function byModel(flow, run, step, clock) {
const named = (text) => step.ways.findIndex((way) => way.kind === "model" && way.text === text);
const indices = possibleModels(flow, run).map((model) => (model !== null && named(model.id) >= 0 ? named(model.id) : named("others")));
const targets = new Set(indices.map((index) => step.ways[index]?.then));
if (targets.size !== 1 || indices[0] < 0) return [null, [{ kind: "model", id: step.id }]];
return byWay(run, step, indices[0], clock);
}
function intoCallee(flow, run, step, clock) {
const callee = flow.procedures[step.callee];
if (!callee || callee.start === null || callee.status === "withdrawn") return [null, [{ kind: "withdrawn", id: step.callee }]];
const missing = callee.requires.filter((need) => !run.facts.holds.includes(need)).map((id) => ({ kind: "condition", id }));
if (!qualified(run.facts.person, callee.for)) missing.push({ kind: "person", id: callee.for });
if (!possibleModels(flow, run).every((model) => model === null || callee.models.includes(model.id))) missing.push({ kind: "model", id: step.callee });
if (missing.length > 0) return [null, missing];
const counted = withCount(run, step.id);
const entry = { what: "carry-out", procedure: procedureOf(flow, run).id, step: step.id, callee: step.callee, at: clock.wall, depth: run.frames.length - 1 };
const frame = { id: run.frameCount, procedure: step.callee, caller: step.id };
const inside = { ...counted, facts: agedByStep(run.facts), frames: [...run.frames, frame], frameCount: run.frameCount + 1, path: [...run.path, entry], log: [...run.log, entry] };
return [{ run: inside, step: callee.start }, null];
}
function guarded(flow, run, clock) {
const step = stepOf(flow, run);
const missing = standsInTheWay(flow, run.facts, step, dayOf(clock));
for (const frame of run.frames) {
const least = flow.procedures[frame.procedure].for;
if (!qualified(run.facts.person, least) && !missing.some((one) => one.id === least)) missing.push({ kind: "person", id: least });
}
if (step.measure?.readings.length > 0 && !step.measure.formula?.rpn) missing.push({ kind: "formula", id: step.id });
if (!Number.isFinite(waitMs(flow, run, step))) missing.push({ kind: "model", id: step.id });
if (missing.length > 0) return handOver(run, missing, clock);
const hazard = cautionsDue(flow, run, step)[0];
if (hazard !== undefined) return { ...run, screen: { name: "caution", hazard } };
const counted = run.arrival.counted ? run : withCount({ ...run, arrival: { ...run.arrival, counted: true } }, step.id);
if (counted.wait !== null) return { ...counted, screen: { name: "wait" } };
const over = step.outcome !== null && run.frames.length === 1 && waitMs(flow, counted, step) === 0;
return over ? ended(flow, counted, step, clock) : { ...counted, screen: { name: "step" } };
}
function acknowledged(flow, state, event, clock) {
if (event.hazard !== state.screen.hazard) return state;
const entry = { what: "caution", hazard: event.hazard, step: state.step, caller: state.caller, at: clock.wall };
const run = { ...state, facts: cautionShown(state.facts, event.hazard), arrival: { ...state.arrival, shown: [...state.arrival.shown, event.hazard] }, log: [...state.log, entry] };
return guarded(flow, run, clock);
}
function answered(flow, state, event, clock) {
const step = stepOf(flow, state);
const way = step.ways[event.way];
const offered = way && (way.kind === "unsure" || (step.kind === "ask" && way.kind === "answer"));
return offered ? left(flow, state, step, event.way, {}, clock) : state;
}
const EXTRA_FIELDS = ["gaps", ...Array.from({ length: MOST_READINGS - 1 }, (_, place) => readingName(place + 2))];
function measured(flow, state, event, clock) {
const step = stepOf(flow, state);
if (step.kind !== "measure") return state;
const names = [...fieldsOf(step).map((field) => field.id), ...(repeatable(step) ? EXTRA_FIELDS : [])];
const said = (name) => String(event.typed?.[name] ?? "").trim();
const typed = Object.fromEntries(names.filter((name) => !EXTRA_FIELDS.includes(name) || said(name) !== "").map((name) => [name, said(name)]));
const refuse = (refusal) => ({ ...state, typed, refusal });
const taken = takenReadings(step, typed);
if ("reason" in taken) return refuse(taken);
const { values, places, single, spread } = taken;
const models = possibleModels(flow, state);
const results = [];
for (const model of models) {
const result = measuredValue(step, values, model);
if ("reason" in result) return refuse(result);
results.push(result.value);
}
const ways = models.map((model, place) => wayOfValue(step, results[place], model));
const same = new Set(ways.map((index) => step.ways[index]?.then));
if (same.size !== 1 || ways[0] < 0) return handOver({ ...state, typed }, [{ kind: "model", id: step.id }], clock);
const apart = models.some((model) => new Set(single.map((value) => step.ways[wayOfValue(step, value, model)]?.then)).size > 1);
if (apart) return refuse({ reason: "apart", field: "value", spread, unit: step.measure.unit });
const near = models.some((model, place) => nearAnEdge(step, values, places, model, ways[place]));
const first = state.arrival.near ?? null;
if (near && first === null) {
return { ...state, typed: {}, arrival: { ...state.arrival, near: typed }, refusal: { reason: "near", field: fieldsOf(step)[0].id, value: results[0], unit: step.measure.unit } };
}
const value = new Set(results).size === 1 ? { value: results[0] } : {};
const more = { ...(spread === null ? {} : { spread }), ...(first === null ? {} : { first }), ...(near ? { near } : {}) };
return left(flow, { ...state, typed: {} }, step, ways[0], { typed, ...value, ...more }, clock);
}
function retyped(_flow, state, event) {
return { ...state, typed: { ...state.typed, [event.field]: String(event.value) } };
}
function waitBegun(flow, state, _event, clock) {
const step = stepOf(flow, state);
const needed = step.kind === "do" ? waitMs(flow, state, step) : 0;
if (needed === 0) return state;
const entry = { what: "wait-begun", step: step.id, seconds: Math.ceil(needed / 1000), at: clock.wall };
return { ...state, wait: { needed, counted: 0, doubt: false, begun: clock.wall }, screen: { name: "wait" }, log: [...state.log, entry] };
}
function waitOver(flow, state, _event, clock) {
if (state.wait.counted < state.wait.needed) return state;
const doubt = state.wait.doubt ? { doubt: true } : {};
const entry = { what: "wait-over", step: state.step, seconds: Math.floor(state.wait.counted / 1000), needed: Math.ceil(state.wait.needed / 1000), ...doubt, at: clock.wall };
const facts = waited(flow, state.facts, state.wait.counted, possibleModels(flow, state));
const run = { ...state, facts, wait: null, log: [...state.log, entry] };
return finished(flow, run, stepOf(flow, state), clock);
}
function done(flow, state, _event, clock) {
const step = stepOf(flow, state);
return step.kind === "do" && waitMs(flow, state, step) === 0 ? finished(flow, state, step, clock) : state;
}
function finished(flow, state, step, clock) {
if (step.outcome !== null) return ended(flow, state, step, clock);
return left(flow, state, step, step.ways.findIndex((way) => way.kind === "next"), {}, clock);
}
function left(flow, state, step, index, reading, clock) {
const way = step.ways[index];
if (!way) return handOver(state, [{ kind: "way", id: step.id }], clock);
const remembered = withSnapshot(state, step, way);
const facts = agedByStep(afterWay(flow, afterStep(flow, state.facts, step), step, index, possibleModels(flow, state)));
return arrived(flow, noted({ ...remembered, facts }, step, index, reading, clock), way.then, clock);
}
function ended(flow, state, step, clock) {
const facts = agedByStep(afterStep(flow, state.facts, step));
const entry = { what: "ending", procedure: procedureOf(flow, state).id, step: step.id, outcome: step.outcome, at: clock.wall, depth: state.frames.length - 1 };
const log = [...state.log, entry];
if (state.frames.length === 1) return { ...state, facts, log, wait: null, screen: { name: "ending", left: leftBehind(flow, facts), missing: notChecked(facts, step) } };
const known = withSnapshot(state, step, null);
return backInCaller(flow, { ...known, facts, log, path: [...known.path, entry] }, step, clock);
}
function backInCaller(flow, known, step, clock) {
const arrival = { shown: [], counted: false, again: false };
const outer = { ...known, frames: known.frames.slice(0, -1), step: known.frames.at(-1).caller, arrival };
const call = stepOf(flow, outer);
const index = call.ways.findIndex((way) => way.kind === "outcome" && way.text === step.outcome);
if (index < 0) return handOver(outer, [{ kind: "outcome", id: step.outcome }], clock);
const facts = afterWay(flow, afterStep(flow, outer.facts, call), call, index, possibleModels(flow, outer));
const run = call.cures.length > 0 ? withDeed(outer, call) : outer;
return arrived(flow, noted({ ...run, facts }, call, index, {}, clock), call.ways[index].then, clock);
}
function wentBackSo(flow, state, event, clock) {
let run = state;
const deeds = [];
for (let left = Math.min(event.times ?? 1, state.history.length); left > 0; left--) {
run = wentBack(flow, run, event, clock);
deeds.unshift(...(run.notice?.deeds ?? []));
}
return deeds.length > 0 ? { ...run, notice: { name: "stays-done", deeds } } : run;
}
function wentBack(flow, state, _event, clock) {
if (state.screen.name === "resume" || state.history.length === 0) return state;
const then = state.history.at(-1);
const counts = { ...then.counts };
for (const [key, times] of Object.entries(state.counts)) {
if (isAction(flow, state, then, key)) counts[key] = Math.max(times, counts[key] ?? 0);
}
const notice = then.deeds.length > 0 ? { name: "stays-done", deeds: then.deeds } : null;
const entry = { what: "back", to: then.step, deeds: then.deeds, at: clock.wall };
const run = {
...state, frames: then.frames, step: then.step, facts: afterBack(then.facts, state.facts), counts, path: state.path.slice(0, then.path), history: state.history.slice(0, -1),
wait: null, typed: {}, arrival: { shown: [], counted: true, again: true }, notice, log: [...state.log, entry], screen: { name: "back" },
};
return guarded(flow, run, clock);
}
function resumed(flow, state, event, clock) {
const asked = state.facts.holds.filter((id) => typeof event.conditions?.[id] !== "boolean");
const missing = [!PERSONS.includes(event.person) && "person", typeof event.alone !== "boolean" && "alone", Object.hasOwn(event, "caller") && typeof event.caller !== "boolean" && "caller", ...asked].filter(Boolean);
if (missing.length > 0) return { ...state, typed: event, refusal: { reason: "unanswered", missing } };
const confirmed = state.facts.holds.filter((id) => event.conditions[id]);
const caller = typeof event.caller === "boolean" ? event.caller : state.caller;
const entry = { what: "resume", person: event.person, alone: event.alone, caller, confirmed, at: clock.wall };
const facts = afterBreak(flow, state.facts, event.person, confirmed);
const log = [...state.log, entry];
if (!event.alone) return { ...state, facts, log, typed: event, refusal: { reason: "not-alone", missing: ["alone"] } };
const kept = state.facts.holds.every((id) => facts.holds.includes(id));
const wait = state.wait === null || kept ? state.wait : { ...state.wait, counted: 0 };
const run = { ...state, caller, facts, log, wait, typed: {}, arrival: { ...state.arrival, shown: [] }, screen: { name: "back" } };
return run.arrival.counted ? guarded(flow, run, clock) : arrived(flow, run, run.step, clock);
}
return { begin, advance };
})();
modules["script/sha256.js"] = (function () {
const ROOTS = primes(64);
const K = ROOTS.map((prime) => fraction(Math.cbrt(prime)));
const H = ROOTS.slice(0, 8).map((prime) => fraction(Math.sqrt(prime)));
function primes(count) {
const found = [];
for (let candidate = 2; found.length < count; candidate++) {
if (found.every((prime) => candidate % prime !== 0)) found.push(candidate);
}
return found;
}
function fraction(root) {
return ((root - Math.floor(root)) * 2 ** 32) >>> 0;
}
function turned(word, by) {
return (word >>> by) | (word << (32 - by));
}
function sha256(bytes) {
const padded = new Uint8Array(((bytes.length + 72) >> 6) << 6);
padded.set(bytes);
padded[bytes.length] = 0x80;
const view = new DataView(padded.buffer);
view.setUint32(padded.length - 8, Math.floor(bytes.length / 2 ** 29));
view.setUint32(padded.length - 4, bytes.length << 3);
const state = Uint32Array.from(H);
const words = new Uint32Array(64);
for (let block = 0; block < padded.length; block += 64) {
for (let t = 0; t < 16; t++) words[t] = view.getUint32(block + t * 4);
for (let t = 16; t < 64; t++) words[t] = small(words[t - 2], 17, 19, 10) + words[t - 7] + small(words[t - 15], 7, 18, 3) + words[t - 16];
rounds(state, words);
}
const digest = new DataView(new ArrayBuffer(32));
state.forEach((word, place) => digest.setUint32(place * 4, word));
return new Uint8Array(digest.buffer);
}
function small(word, one, two, shift) {
return turned(word, one) ^ turned(word, two) ^ (word >>> shift);
}
function rounds(state, words) {
let [a, b, c, d, e, f, g, h] = state;
for (let t = 0; t < 64; t++) {
const one = h + (turned(e, 6) ^ turned(e, 11) ^ turned(e, 25)) + ((e & f) ^ (~e & g)) + K[t] + words[t];
const two = (turned(a, 2) ^ turned(a, 13) ^ turned(a, 22)) + ((a & b) ^ (a & c) ^ (b & c));
[a, b, c, d, e, f, g, h] = [(one + two) | 0, a, b, c, (d + one) | 0, e, f, g];
}
[a, b, c, d, e, f, g, h].forEach((word, place) => (state[place] += word));
}
function digestOf(text) {
return [...sha256(new TextEncoder().encode(text))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}
return { sha256, digestOf };
})();
modules["script/packet.js"] = (function () {
const { advance, begin } = modules["script/flow-state.js"];
const { sha256 } = modules["script/sha256.js"];
const VERSION = 1;
const CHECK = 6;
const STILL_HERE_MS = 10 * 60 * 1000;
const CODES = ["start", "acknowledge", "answer", "reading", "next", "begin-wait", "back", "confirm", "note", "machine"];
const PERSONS = ["ordinary", "instructed", "skilled"];
function deedsOf(flow, state) {
const deeds = [];
let waitedFor = null;
for (const entry of state.log) {
const deed = deedOf(flow, entry);
if (entry.first !== undefined) deeds.push({ type: "reading", typed: entry.first, at: entry.at });
const follows = waitedFor !== null && entry.step === waitedFor && deed?.type === "next";
if (deed !== null && !follows) deeds.push({ ...deed, at: entry.at });
waitedFor = entry.what === "wait-over" ? entry.step : null;
}
return deeds;
}
function deedOf(flow, entry) {
switch (entry.what) {
case "start": return { type: "start", model: entry.model, person: entry.person, alone: true, caller: entry.caller, ticket: entry.ticket, serial: entry.serial, counter: entry.counter };
case "caution": return { type: "acknowledge", hazard: entry.hazard };
case "wait-begun": return { type: "begin-wait" };
case "wait-over": return { type: "next" };
case "back": return { type: "back" };
case "note": return { type: "note", text: entry.text };
case "machine": return { type: "machine", serial: entry.serial };
case "resume": return { type: "confirm", person: entry.person, alone: entry.alone, caller: entry.caller, confirmed: entry.confirmed };
case "ending": return entry.depth > 0 ? { type: "next" } : null;
case "way": {
const { kind } = flow.procedures[entry.procedure].steps[entry.step].ways[entry.way];
if (kind === "next") return { type: "next" };
if (kind === "band" || kind === "part") return { type: "reading", typed: entry.typed };
return kind === "answer" || kind === "unsure" ? { type: "answer", way: entry.way } : null;
}
default: return null;
}
}
function replayed(flow, deeds) {
let wall = deeds[0]?.at ?? 0;
const clock = () => ({ wall, running: wall });
let state = begin(flow, clock());
const send = (event, at) => {
wall = Math.max(wall, at);
state = advance(flow, state, event, clock());
};
for (const deed of deeds) {
if (deed.type === "confirm") {
if (state.screen.name !== "resume") send({ type: "take-over" }, wall + 1000);
const conditions = Object.fromEntries(state.facts.holds.map((id) => [id, deed.confirmed.includes(id)]));
send({ ...deed, conditions }, Math.max(deed.at, wall + 1000));
continue;
}
const at = Math.max(deed.at, wall + 1000);
while (at - wall > STILL_HERE_MS) send({ type: "here" }, wall + STILL_HERE_MS);
send(deed, at);
}
return state;
}
function packed(flow, state) {
const out = new Writer();
out.byte(VERSION);
out.text(flow.procedure);
out.number(flow.procedures[flow.procedure].revision ?? 0);
for (const pair of flow.edition.match(/../g) ?? []) out.byte(parseInt(pair, 16));
let last = 0;
for (const deed of deedsOf(flow, state)) {
const at = Math.max(last, Math.floor(deed.at / 1000));
out.byte(CODES.indexOf(deed.type));
out.number(at - last);
last = at;
put(out, flow, deed);
}
const bytes = Uint8Array.from(out.bytes);
return base64url([...bytes, ...sha256(bytes).slice(0, CHECK)]);
}
function put(out, flow, deed) {
switch (deed.type) {
case "start":
out.number(1 + modelIds(flow).indexOf(deed.model));
out.byte(PERSONS.indexOf(deed.person) + (deed.caller ? 4 : 0));
for (const text of [deed.ticket, deed.serial, deed.counter]) out.text(text ?? "");
break;
case "acknowledge": out.number(flow.hazards.findIndex((one) => one.id === deed.hazard)); break;
case "answer": out.number(deed.way); break;
case "reading":
out.number(Object.keys(deed.typed).length);
for (const [field, typed] of Object.entries(deed.typed)) {
out.text(field === "value" ? "" : field);
out.text(String(typed));
}
break;
case "confirm":
out.byte(PERSONS.indexOf(deed.person) + (deed.caller ? 4 : 0) + (deed.alone ? 8 : 0));
out.number(deed.confirmed.length);
for (const id of deed.confirmed) out.number(flow.conditions.findIndex((one) => one.id === id));
break;
case "note": out.text(deed.text); break;
case "machine": out.text(deed.serial); break;
}
}
function modelIds(flow) {
return [...flow.models.map((model) => model.id), "unknown"];
}
function unpacked(flow, text) {
const bytes = fromBase64url(text);
const body = bytes?.slice(0, -CHECK);
if (!bytes || !body || bytes.length <= CHECK || !sha256(body).slice(0, CHECK).every((byte, place) => byte === bytes[body.length + place])) return { reason: "cut" };
try {
const reader = new Reader(body);
if (reader.byte() !== VERSION) return { reason: "newer" };
const id = reader.text();
const revision = reader.number();
if (id !== flow.procedure) return { reason: "procedure", id };
const edition = flow.edition.replace(/../g, () => reader.byte().toString(16).padStart(2, "0"));
if (edition !== flow.edition) return { reason: "edition", revision };
const run = replayed(flow, deedsIn(reader, flow));
return run.frames.length > 0 ? { run } : { reason: "other" };
} catch {
return { reason: "other" };
}
}
function deedsIn(reader, flow) {
const deeds = [];
let seconds = 0;
while (!reader.done()) {
const type = CODES[reader.byte()];
seconds += reader.number();
deeds.push({ type, at: seconds * 1000, ...take(reader, flow, type) });
}
return deeds;
}
function take(reader, flow, type) {
switch (type) {
case "start": {
const model = modelIds(flow)[reader.number() - 1];
const who = reader.byte();
return { model, person: PERSONS[who & 3], alone: true, caller: (who & 4) > 0, ticket: reader.text(), serial: reader.text(), counter: reader.text() };
}
case "acknowledge": return { hazard: flow.hazards[reader.number()].id };
case "answer": return { way: reader.number() };
case "reading": return { typed: Object.fromEntries(Array.from({ length: reader.number() }, () => [reader.text() || "value", reader.text()])) };
case "confirm": {
const who = reader.byte();
const confirmed = Array.from({ length: reader.number() }, () => flow.conditions[reader.number()].id);
return { person: PERSONS[who & 3], caller: (who & 4) > 0, alone: (who & 8) > 0, confirmed };
}
case "note": return { text: reader.text() };
case "machine": return { serial: reader.text() };
case "next": case "begin-wait": case "back": return {};
default: throw new Error("no such deed");
}
}
class Writer {
bytes = [];
byte(value) {
this.bytes.push(value & 255);
}
number(value) {
let left = value;
for (; left >= 128; left = Math.floor(left / 128)) this.byte((left % 128) + 128);
this.byte(left);
}
text(text) {
const bytes = new TextEncoder().encode(text);
this.number(bytes.length);
bytes.forEach((byte) => this.byte(byte));
}
}
class Reader {
constructor(bytes) {
this.bytes = bytes;
this.at = 0;
}
done() {
return this.at >= this.bytes.length;
}
byte() {
if (this.done()) throw new Error("cut");
return this.bytes[this.at++];
}
number() {
let value = 0;
for (let factor = 1; ; factor *= 128) {
const byte = this.byte();
value += (byte % 128) * factor;
if (byte < 128) return value;
}
}
text() {
const length = this.number();
if (this.at + length > this.bytes.length) throw new Error("cut");
this.at += length;
return new TextDecoder().decode(Uint8Array.from(this.bytes.slice(this.at - length, this.at)));
}
}
const LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
function base64url(bytes) {
let text = "";
for (let at = 0; at < bytes.length; at += 3) {
const three = (bytes[at] << 16) | ((bytes[at + 1] ?? 0) << 8) | (bytes[at + 2] ?? 0);
const letters = [18, 12, 6, 0].map((shift) => LETTERS[(three >> shift) & 63]).join("");
text += letters.slice(0, Math.min(4, bytes.length - at + 1));
}
return text;
}
function fromBase64url(text) {
const values = [...text].map((letter) => LETTERS.indexOf(letter));
if (values.includes(-1) || values.length % 4 === 1) return null;
const bytes = [];
for (let at = 0; at < values.length; at += 4) {
const part = values.slice(at, at + 4);
const four = part.reduce((sum, value, place) => sum | (value << (18 - 6 * place)), 0);
const three = [16, 8, 0].map((shift) => (four >> shift) & 255);
if (three.slice(part.length - 1).some((rest) => rest !== 0)) return null;
bytes.push(...three.slice(0, part.length - 1));
}
return bytes;
}
return { deedsOf, replayed, packed, unpacked };
})();
modules["script/qr.js"] = (function () {
const CORRECTION = [7, 10, 15, 20, 26, 18, 20, 24, 30, 18, 20, 24, 26, 30, 22, 24, 28, 30, 28, 28, 28, 28, 30, 30, 26, 28, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30];
const BLOCKS = [1, 1, 1, 1, 1, 2, 2, 2, 2, 4, 4, 4, 4, 4, 6, 6, 6, 6, 7, 8, 8, 9, 9, 10, 12, 12, 12, 13, 14, 15, 16, 17, 18, 19, 19, 20, 21, 22, 24, 25];
const MASKS = [
(r, c) => (r + c) % 2 === 0, (r) => r % 2 === 0, (_r, c) => c % 3 === 0, (r, c) => (r + c) % 3 === 0, (r, c) => (Math.floor(r / 2) + Math.floor(c / 3)) % 2 === 0,
(r, c) => ((r * c) % 2) + ((r * c) % 3) === 0, (r, c) => (((r * c) % 2) + ((r * c) % 3)) % 2 === 0, (r, c) => (((r + c) % 2) + ((r * c) % 3)) % 2 === 0,
];
function alignment(version) {
if (version === 1) return [];
const count = Math.floor(version / 7) + 2;
const step = version === 32 ? 26 : Math.ceil((version * 4 + 4) / (count * 2 - 2)) * 2;
return [6, ...Array.from({ length: count - 1 }, (_, place) => version * 4 + 10 - step * (count - 2 - place))];
}
function codewords(version) {
const count = version === 1 ? 0 : Math.floor(version / 7) + 2;
const patterns = count === 0 ? 0 : (25 * count - 10) * count - 55;
return Math.floor(((16 * version + 128) * version + 64 - patterns - (version >= 7 ? 36 : 0)) / 8);
}
function dataCodewords(version) {
return codewords(version) - CORRECTION[version - 1] * BLOCKS[version - 1];
}
const POWER = new Uint8Array(255);
const LOG = new Uint8Array(256);
for (let exponent = 0, value = 1; exponent < 255; exponent++, value = (value << 1) ^ (value & 128 ? 0x11d : 0)) {
POWER[exponent] = value;
LOG[value] = exponent;
}
function product(one, other) {
return one === 0 || other === 0 ? 0 : POWER[(LOG[one] + LOG[other]) % 255];
}
function correction(block, degree) {
let generator = [1];
for (let root = 0; root < degree; root++) {
generator = [...generator, 0].map((factor, place) => factor ^ product(place > 0 ? generator[place - 1] : 0, POWER[root]));
}
const rest = [...block, ...new Array(degree).fill(0)];
block.forEach((_, place) => {
const lead = rest[place];
generator.forEach((factor, offset) => (rest[place + offset] ^= product(factor, lead)));
});
return rest.slice(block.length);
}
function versionFor(length) {
for (let version = 1; version <= 40; version++) {
if (4 + (version < 10 ? 8 : 16) + length * 8 <= dataCodewords(version) * 8) return version;
}
return 0;
}
function message(bytes, version) {
const bits = [];
const put = (value, length) => {
for (let place = length - 1; place >= 0; place--) bits.push((value >> place) & 1);
};
const room = dataCodewords(version);
put(0b0100, 4);
put(bytes.length, version < 10 ? 8 : 16);
bytes.forEach((byte) => put(byte, 8));
put(0, Math.min(4, room * 8 - bits.length));
put(0, (8 - (bits.length % 8)) % 8);
for (let pad = 0xec; bits.length < room * 8; pad ^= 0xec ^ 0x11) put(pad, 8);
const data = Array.from({ length: room }, (_, place) => bits.slice(place * 8, place * 8 + 8).reduce((sum, bit) => sum * 2 + bit, 0));
const count = BLOCKS[version - 1];
const short = Math.floor(room / count);
const longer = room % count;
const blocks = Array.from({ length: count }, (_, place) => {
const start = place * short + Math.max(0, place - (count - longer));
return data.slice(start, start + short + (place >= count - longer ? 1 : 0));
});
const checks = blocks.map((block) => correction(block, CORRECTION[version - 1]));
const across = (list) => Array.from({ length: Math.max(...list.map((one) => one.length)) }, (_, place) => list.flatMap((one) => one.slice(place, place + 1))).flat();
return [...across(blocks), ...across(checks)];
}
function remainder(value, divisor, degree) {
let rest = value << degree;
for (let place = 31 - Math.clz32(rest); place >= degree; place = 31 - Math.clz32(rest)) {
rest ^= divisor << (place - degree);
if (rest === 0) break;
}
return rest;
}
function formatBits(mask) {
const data = (0b01 << 3) | mask;
return ((data << 10) | remainder(data, 0b10100110111, 10)) ^ 0b101010000010010;
}
function versionBits(version) {
return (version << 12) | remainder(version, 0b1111100100101, 12);
}
class Symbol_ {
constructor(version) {
this.version = version;
this.size = version * 4 + 17;
this.dark = Array.from({ length: this.size }, () => new Array(this.size).fill(false));
this.fixed = this.dark.map((row) => [...row]);
}
fix(row, column, dark) {
if (row < 0 || column < 0 || row >= this.size || column >= this.size) return;
this.dark[row][column] = dark;
this.fixed[row][column] = true;
}
patterns() {
const { size, version } = this;
for (let place = 0; place < size; place++) {
this.fix(6, place, place % 2 === 0);
this.fix(place, 6, place % 2 === 0);
}
for (const [row, column] of [[3, 3], [3, size - 4], [size - 4, 3]]) {
this.square(row, column, 4, (distance) => distance !== 2 && distance !== 4);
}
const places = alignment(version);
const last = places.length - 1;
places.forEach((row, r) => places.forEach((column, c) => {
const corner = (r === 0 && c === 0) || (r === 0 && c === last) || (r === last && c === 0);
if (!corner) this.square(row, column, 2, (distance) => distance !== 1);
}));
this.format(0);
for (let place = 0; version >= 7 && place < 18; place++) {
const dark = ((versionBits(version) >> place) & 1) === 1;
this.fix(Math.floor(place / 3), size - 11 + (place % 3), dark);
this.fix(size - 11 + (place % 3), Math.floor(place / 3), dark);
}
}
square(row, column, reach, dark) {
for (let r = -reach; r <= reach; r++) {
for (let c = -reach; c <= reach; c++) this.fix(row + r, column + c, dark(Math.max(Math.abs(r), Math.abs(c))));
}
}
format(mask) {
const bit = (place) => ((formatBits(mask) >> place) & 1) === 1;
const { size } = this;
for (let place = 0; place < 6; place++) {
this.fix(place, 8, bit(place));
this.fix(8, 5 - place, bit(place + 9));
}
this.fix(7, 8, bit(6));
this.fix(8, 8, bit(7));
this.fix(8, 7, bit(8));
for (let place = 0; place < 8; place++) this.fix(8, size - 1 - place, bit(place));
for (let place = 8; place < 15; place++) this.fix(size - 15 + place, 8, bit(place));
this.fix(size - 8, 8, true);
}
data(words) {
const { size } = this;
let bit = 0;
for (let right = size - 1; right > 0; right -= 2) {
if (right === 6) right = 5;
const upwards = ((right + 1) & 2) === 0;
for (let step = 0; step < size; step++) {
const row = upwards ? size - 1 - step : step;
for (const column of [right, right - 1]) {
if (this.fixed[row][column]) continue;
this.dark[row][column] = bit < words.length * 8 && ((words[bit >> 3] >> (7 - (bit & 7))) & 1) === 1;
bit++;
}
}
}
}
masked(mask) {
this.format(mask);
return this.dark.map((line, row) => line.map((dark, column) => dark !== (!this.fixed[row][column] && MASKS[mask](row, column))));
}
}
function penalty(rows) {
const size = rows.length;
const lines = [...rows, ...rows.map((_, column) => rows.map((row) => row[column]))].map((line) => line.map((dark) => (dark ? "1" : "0")).join(""));
let points = 0;
for (const line of lines) {
for (const run of line.match(/1{5,}|0{5,}/g) ?? []) points += run.length - 2;
for (const finder of ["10111010000", "00001011101"]) {
for (let at = line.indexOf(finder); at >= 0; at = line.indexOf(finder, at + 1)) points += 40;
}
}
let dark = 0;
for (let row = 0; row < size; row++) {
for (let column = 0; column < size; column++) {
dark += Number(rows[row][column]);
const four = row + 1 < size && column + 1 < size && [rows[row][column + 1], rows[row + 1][column], rows[row + 1][column + 1]].every((one) => one === rows[row][column]);
points += four ? 3 : 0;
}
}
return points + Math.floor(Math.abs(dark * 20 - size * size * 10) / (size * size)) * 10;
}
function qrCode(text) {
const bytes = new TextEncoder().encode(text);
const version = versionFor(bytes.length);
if (version === 0) return null;
const symbol = new Symbol_(version);
symbol.patterns();
symbol.data(message(bytes, version));
let best = symbol.masked(0);
let least = penalty(best);
for (let mask = 1; mask < 8; mask++) {
const rows = symbol.masked(mask);
const points = penalty(rows);
if (points < least) [best, least] = [rows, points];
}
return best;
}
return { formatBits, versionBits, qrCode };
})();
modules["script/deviations.js"] = (function () {
function deviations(state) {
return state.log.flatMap((entry, place) => {
const n = place + 1;
if (entry.what === "back") return [{ what: "went-back", n, step: entry.to }];
if (entry.what === "wait-over" && entry.doubt) return [{ what: "clocks-disagreed", n, step: entry.step }];
if (entry.what === "hand-over") return [{ what: "handed-over", n, step: entry.step, missing: entry.missing.map((one) => one.id) }];
if (entry.what === "way" && entry.near) return [{ what: "near-an-edge", n, step: entry.step }];
return [];
});
}
return { deviations };
})();
modules["script/service-record.js"] = (function () {
const { deviations } = modules["script/deviations.js"];
const { digestOf } = modules["script/sha256.js"];
const RECORD_SCHEMA = "stepward/record/1";
function canonical(value) {
if (Array.isArray(value)) return `[${value.map(canonical).join(",")}]`;
if (value === null || typeof value !== "object") return JSON.stringify(value);
const keys = Object.keys(value).filter((key) => value[key] !== undefined).sort();
return `{${keys.map((key) => `${JSON.stringify(key)}:${canonical(value[key])}`).join(",")}}`;
}
function timeText(wall) {
return new Date(wall).toISOString().replace(/\.\d+Z$/, "Z");
}
function serviceRecord(flow, state) {
const procedure = flow.procedures[flow.procedure];
const head = {
schema: RECORD_SCHEMA, library: flow.library, procedure: flow.procedure, title: procedure.title, revision: procedure.revision, edition: flow.edition,
machine: { model: state.model, serial: state.about.serial, counter: state.about.counter }, ticket: state.about.ticket,
};
let chain = digestOf(canonical(head));
const record = { ...head, chain, entries: ([]) };
for (const one of state.log) {
const { at, ...rest } = entryOf(flow, one);
const entry = { n: record.entries.length + 1, at: timeText(at), ...rest };
chain = digestOf(chain + canonical(entry));
record.entries.push({ ...entry, chain });
}
const end = endOf(state);
return { ...record, ...end, deviations: deviations(state), seal: digestOf(chain + canonical({ ...end, deviations: deviations(state) })) };
}
function endOf(state) {
const last = state.log.findLast((entry) => entry.what === "ending" && entry.depth === 0);
const ended = state.screen.name === "ending" && last !== undefined;
return {
status: ended ? "ended" : state.screen.name === "hand-over" ? "handed-over" : "under-way",
ending: ended ? { step: last.step, outcome: last.outcome } : null,
left: { holds: [...state.facts.holds], "may-hold": state.facts.mayHold.filter((id) => !state.facts.holds.includes(id)), "cure-unchecked": state.facts.uncheckedCure },
};
}
function entryOf(flow, entry) {
const { what, at, ...rest } = entry;
switch (what) {
case "way": {
const step = flow.procedures[entry.procedure].steps[entry.step];
const way = step.ways[entry.way];
const reading = entry.typed === undefined ? {} : { typed: entry.typed, value: entry.value ?? null, unit: step.measure.unit, spread: entry.spread, first: entry.first, "near-an-edge": entry.near };
const seen = ["answer", "band", "part", "unsure"].includes(way.kind) ? { how: entry.told ? "told" : "seen" } : {};
return { at, what, procedure: entry.procedure, step: entry.step, way: way.kind, text: way.text, ...seen, ...reading };
}
case "caution": return { at, what, hazard: entry.hazard, step: entry.step, acknowledged: entry.caller ? "repeated" : "read" };
case "wait-over": return { at, what, step: entry.step, required: entry.needed, waited: entry.seconds, "clocks-agreed": !entry.doubt };
case "wait-begun": return { at, what, step: entry.step, required: entry.seconds };
case "start": return { at, what, model: entry.model, person: entry.person, caller: entry.caller };
case "back": return { at, what, to: entry.to, "stays-done": entry.deeds.map((deed) => deed.step) };
case "carry-out": return { at, what, procedure: entry.procedure, step: entry.step, callee: entry.callee };
case "ending": return { at, what, procedure: entry.procedure, step: entry.step, outcome: entry.outcome };
default: return { at, what, ...rest };
}
}
function brokenAt(record) {
const { schema, library, procedure, title, revision, edition, machine, ticket, chain: first, entries, status, ending, left, deviations, seal } = record;
if (schema !== RECORD_SCHEMA || digestOf(canonical({ schema, library, procedure, title, revision, edition, machine, ticket })) !== first) return "head";
let chain = first;
for (const [place, { chain: own, ...entry }] of entries.entries()) {
if (entry.n !== place + 1 || digestOf(chain + canonical(entry)) !== own) return place + 1;
chain = own;
}
return digestOf(chain + canonical({ status, ending, left, deviations })) === seal ? null : "end";
}
return { RECORD_SCHEMA, canonical, timeText, serviceRecord, brokenAt };
})();
modules["parts/follower/make.js"] = (function () {
function make(tag, attributes = {}, ...children) {
const element = document.createElement(tag);
for (const [name, value] of Object.entries(attributes)) {
if (typeof value === "function") element.addEventListener(name, (value));
else if (value === true) element.setAttribute(name, "");
else if (value !== false && value !== null && value !== undefined) element.setAttribute(name, String(value));
}
element.append(...children.filter((child) => child !== null && child !== false && child !== undefined).map((child) => (child)));
return element;
}
function alertSymbol() {
const space = "http://www.w3.org/2000/svg";
const svg = document.createElementNS(space, "svg");
for (const [name, value] of [["viewBox", "0 0 24 22"], ["class", "caution__alert"], ["aria-hidden", "true"]]) svg.setAttribute(name, value);
const path = document.createElementNS(space, "path");
path.setAttribute("fill-rule", "evenodd");
path.setAttribute("d", "M12 0 24 22H0ZM10.6 7.5 11.2 15.4h1.6L13.4 7.5ZM12 16.8a1.4 1.4 0 1 0 0 2.8 1.4 1.4 0 0 0 0-2.8Z");
svg.append(path);
return svg;
}
return { make, alertSymbol };
})();
modules["parts/follower/words.js"] = (function () {
let words = null;
function useWords(groups) {
words = groups;
}
function find(key, group) {
words ??= JSON.parse(document.getElementById("interface-words")?.textContent ?? "{}");
return (words)[group]?.[key];
}
function say(key, values = {}, group = "follower") {
const text = find(key, group) ?? key;
return text.replace(/\{([a-z]+)\}/g, (whole, name) => (Object.hasOwn(values, name) ? String(values[name]) : whole)).trim();
}
function sayOf(family, id) {
return find(`${family}-${id}`, "follower") === undefined ? id : say(`${family}-${id}`);
}
function duration(seconds) {
const parts = [[Math.floor(seconds / 3600), "h"], [Math.floor(seconds / 60) % 60, "min"], [seconds % 60, "s"]];
return parts.filter(([count]) => count > 0).map(([count, unit]) => `${count} ${unit}`).join(" ") || "0 s";
}
return { useWords, say, sayOf, duration };
})();
modules["parts/follower/copy.js"] = (function () {
const { make } = modules["parts/follower/make.js"];
const { say } = modules["parts/follower/words.js"];
function copyText(id, label, text, press, rows = 8) {
const area = (make("textarea", { class: "follower__record", rows, readonly: true, id }));
area.value = text;
const button = make("button", { type: "button", class: "follower__meant", click: () => copyFrom(area, button) }, press);
return make("div", { class: "follower__copy" }, make("label", { for: id, class: "follower__recordname" }, label), area, button);
}
function copyFrom(area, button) {
area.select();
navigator.clipboard?.writeText(area.value).then(() => { button.textContent = say("copied"); }, () => {});
}
return { copyText };
})();
modules["parts/follower/record.js"] = (function () {
const { say, sayOf, duration } = modules["parts/follower/words.js"];
function conditionName(flow, id) {
return flow.conditions.find((one) => one.id === id)?.name ?? id;
}
function hazardName(flow, id) {
return flow.hazards.find((one) => one.id === id)?.name ?? id;
}
function modelName(flow, id) {
return id === null || id === "unknown" ? say("model-unknown") : flow.models.find((one) => one.id === id)?.name ?? id;
}
function missingWords(flow, missing) {
if (missing.kind === "condition") return say("missing-condition", { name: conditionName(flow, missing.id) });
if (missing.kind === "person") return say("missing-person", { person: sayOf("need", missing.id) });
return sayOf("missing", missing.kind);
}
function outcomeWords(outcome) {
const words = sayOf("end", outcome);
return words === outcome ? say("end-task", { outcome: outcome.replaceAll("-", " ") }) : words;
}
function pathWords(flow, entry) {
const step = flow.procedures[entry.procedure].steps[entry.step];
if (entry.what === "carry-out") return { asked: say("path-carry-out"), said: step.text };
if (entry.what === "ending") return { asked: step.text, said: outcomeWords(entry.outcome) };
const way = step.ways[entry.way];
const unit = step.measure?.unit ?? "";
const said = entry.value !== undefined ? `${entry.value} ${unit}`.trim()
: way.kind === "unsure" ? say(step.kind === "measure" ? "unsure-measure" : "unsure")
: way.kind === "otherwise" ? say("path-otherwise")
: way.kind === "model" ? modelName(flow, way.text)
: way.kind === "outcome" ? outcomeWords(way.text)
: way.text ?? "";
return { asked: step.kind === "by-model" ? say("known-model") : step.text, said };
}
function timeOf(wall) {
return new Date(wall).toISOString().slice(0, 16).replace("T", " ") + " UTC";
}
function recordText(flow, state) {
const procedure = flow.procedures[flow.procedure];
const lines = [say("record-title", { title: procedure.title, revision: procedure.revision ?? "-" }), flow.library];
let first = true;
for (const entry of state.log) {
if (first) lines.push(timeOf(entry.at));
first = false;
lines.push(...recordLines(flow, state, entry));
}
return lines.join("\n") + "\n";
}
function rawRecord(state) {
return [`${state.edition}`, ...state.log.map(({ at, ...entry }) => `${timeOf(at)} ${JSON.stringify(entry)}`)].join("\n") + "\n";
}
function recordLines(flow, state, entry) {
const textOf = (id) => stepText(flow, entry.procedure, id);
switch (entry.what) {
case "note": return [say("record-note", { text: entry.text })];
case "machine": return [say("record-machine", { serial: entry.serial })];
case "start": return [...["ticket", "counter"].filter((name) => state.about?.[name]).map((name) => say(`record-${name}`, state.about)), ...(entry.serial ? [say("record-machine", entry)] : []), ...(flow.models.length > 0 ? [say("record-model", { model: modelName(flow, entry.model) })] : []), say("record-person", { person: sayOf("person", entry.person) })];
case "caution": return [say(entry.caller ? "record-caution-caller" : "record-caution", { name: hazardName(flow, entry.hazard) })];
case "back": return [say("record-back", { step: textOf(entry.to) })];
case "wait-over": return [say("record-wait", { time: duration(entry.seconds), step: textOf(entry.step) })];
case "resume": return [say("record-resume", { person: sayOf("person", entry.person), names: entry.confirmed.map((id) => conditionName(flow, id)).join(", ") || say("known-none") })];
case "hand-over": return [say("record-hand-over", { missing: entry.missing.map((one) => missingWords(flow, one)).join("; ") })];
case "ending": return entry.depth === 0 ? [say("record-ending", { outcome: outcomeWords(entry.outcome), step: textOf(entry.step) })] : [];
case "way": case "carry-out": {
const { asked, said } = pathWords(flow, entry);
const between = /[?.!:]$/.test(asked) ? " " : ": ";
return [`${"  ".repeat(entry.depth)}${asked}${said === "" ? "" : between + said}${entry.told ? ` (${say("told")})` : ""}`];
}
default: return [];
}
}
function stepText(flow, procedure, id) {
const own = procedure ? [flow.procedures[procedure]] : Object.values(flow.procedures);
return own.find((one) => Object.hasOwn(one.steps, id))?.steps[id].text ?? id;
}
return { conditionName, hazardName, modelName, missingWords, outcomeWords, pathWords, recordText, rawRecord };
})();
modules["parts/follower/summary.js"] = (function () {
const { possibleModels, stepOf } = modules["script/run-state.js"];
const { conditionName, hazardName, modelName, outcomeWords, pathWords } = modules["parts/follower/record.js"];
const { say, sayOf } = modules["parts/follower/words.js"];
const MOST_LINES = 20;
const WIDEST = 100;
function summaryText(flow, state) {
const head = headLines(flow, state);
const foot = footLines(flow, state);
const said = state.path.filter((entry) => entry.what === "way" && entry.way !== undefined && isSaid(flow, entry)).map((entry) => answerLine(flow, state, entry));
const room = MOST_LINES - head.length - foot.length;
const dropped = said.length - (room - 1);
const shown = said.length <= room ? said : [say("summary-earlier", { count: dropped }), ...said.slice(dropped)];
return [...head, ...shown, ...foot].map((line) => fitted(line, WIDEST)).join("\n") + "\n";
}
function isSaid(flow, entry) {
return ["answer", "band", "part", "unsure"].includes(flow.procedures[entry.procedure].steps[entry.step].ways[entry.way].kind);
}
function headLines(flow, state) {
const procedure = flow.procedures[flow.procedure];
const { ticket, serial, counter } = state.about;
const unknown = say("summary-unknown");
const model = possibleModels(flow, state)[0] === null ? unknown : modelName(flow, state.model);
return [
`${say("record-title", { title: procedure.title, revision: procedure.revision ?? "-" })} (${procedure.id})`,
...(ticket === "" ? [] : [say("summary-ticket", { ticket })]),
say("summary-machine", { model, serial: serial || unknown, counter: counter || unknown }),
say("summary-person", { person: sayOf("person", state.facts.person) }),
...(state.caller ? [say("summary-phone")] : []),
];
}
function footLines(flow, state) {
const names = (ids) => ids.map((id) => conditionName(flow, id)).join("; ") || say("known-none");
const perhaps = state.facts.mayHold.filter((id) => !state.facts.holds.includes(id));
const given = [...new Set(state.log.filter((entry) => entry.what === "caution").map((entry) => hazardName(flow, entry.hazard)))];
const note = state.log.findLast((entry) => entry.what === "note");
const ended = state.screen.name === "ending" ? state.log.findLast((entry) => entry.what === "ending" && entry.depth === 0) : null;
const shown = ["step", "wait"].includes(state.screen.name) ? stepOf(flow, state).text : state.path.length > 0 ? pathWords(flow, state.path.at(-1)).asked : null;
const end = ended ? say("summary-ended", { outcome: outcomeWords(ended.outcome) }) : shown ? say("summary-last", { step: shown }) : null;
return [
say("summary-state", { names: names(state.facts.holds) }), ...(perhaps.length > 0 ? [say("summary-perhaps", { names: names(perhaps) })] : []),
say("summary-cautions", { names: given.join("; ") || say("known-none") }), ...(note ? [say("summary-note", note)] : []), ...(end === null ? [] : [end]),
];
}
function answerLine(flow, state, entry) {
const { asked, said } = pathWords(flow, entry);
const how = say(entry.told ? "told" : "seen");
const room = Math.max(20, WIDEST - [...`${how}:  ${said}`].length);
return `${how}: ${fitted(asked, room)} ${said}`;
}
function fitted(line, widest) {
const flat = line.replace(/\s+/g, " ").replace(/[<>]/g, " ").trim();
const letters = [...flat];
return letters.length <= widest ? flat : `${letters.slice(0, widest - 1).join("")}…`;
}
return { MOST_LINES, WIDEST, summaryText };
})();
modules["parts/follower/packet-sheet.js"] = (function () {
const { packed } = modules["script/packet.js"];
const { qrCode } = modules["script/qr.js"];
const { brokenAt, serviceRecord } = modules["script/service-record.js"];
const { copyText } = modules["parts/follower/copy.js"];
const { make } = modules["parts/follower/make.js"];
const { summaryText } = modules["parts/follower/summary.js"];
const { say } = modules["parts/follower/words.js"];
const QUIET = 4;
function drawPacket({ flow, state, into, send, address }) {
const link = `${address}#run=${packed(flow, state)}`;
into.replaceChildren(
...(state.about.serial === "" ? [askSerial(send)] : []),
make("p", {}, say("packet-why")),
...(address.startsWith("file:") ? [make("p", { class: "follower__notice" }, say("packet-folder"))] : []),
copyText("follower-link", say("packet-link"), link, say("packet-copy"), 3),
code(link),
copyText("follower-ticket", say("packet-ticket"), summaryText(flow, state), say("packet-ticket-copy"), 12),
record(flow, state),
);
}
function askSerial(send) {
const input = (make("input", { id: "follower-serial", class: "follower__text", maxlength: 200, autocomplete: "off" }));
const save = () => send({ type: "machine", serial: input.value });
const unknown = () => send({ type: "machine", serial: "unknown" });
return make("div", { class: "follower__notice" }, make("label", { for: "follower-serial" }, say("packet-serial")), input,
make("div", { class: "follower__row" }, make("button", { type: "button", class: "follower__minor", click: save }, say("packet-serial-save")), make("button", { type: "button", class: "follower__minor", click: unknown }, say("packet-serial-unknown"))));
}
function code(link) {
const rows = qrCode(link);
if (rows === null) return make("p", {}, say("packet-long"));
const size = rows.length + 2 * QUIET;
const dark = rows.flatMap((row, y) => runsOf(row).map(([x, wide]) => `M${x + QUIET} ${y + QUIET}h${wide}v1h-${wide}z`)).join("");
const svg = drawing("svg", { viewBox: `0 0 ${size} ${size}`, class: "follower__code", role: "img", "aria-label": say("packet-code-alt"), "shape-rendering": "crispEdges" });
svg.append(drawing("rect", { width: size, height: size, fill: "#ffffff" }), drawing("path", { d: dark, fill: "#000000" }));
const figure = make("figure", { class: "follower__figure" }, make("figcaption", { class: "follower__recordname" }, say("packet-code")));
figure.append(svg);
return figure;
}
function runsOf(row) {
const runs = [];
for (const [x, dark] of row.entries()) {
const last = runs.at(-1);
if (dark && last && last[0] + last[1] === x) last[1] += 1;
else if (dark) runs.push([x, 1]);
}
return runs;
}
function drawing(tag, attributes) {
const element = document.createElementNS("http://www.w3.org/2000/svg", tag);
for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, String(value));
return element;
}
function record(flow, state) {
const whole = serviceRecord(flow, state);
const text = `${JSON.stringify(whole, null, 2)}\n`;
const broken = brokenAt(whole);
const chain = make("p", { class: "follower__small", "data-chain": broken ?? "whole" }, broken === null ? say("packet-chain-whole") : say("packet-chain-broken", { place: broken }));
const link = download(text, `${flow.procedure}-${new Date(state.log[0].at).toISOString().slice(0, 16).replace(/[T:]/g, "-")}.json`);
return make("div", { class: "follower__copy" }, make("h3", { class: "follower__part" }, say("packet-record")), link, chain, copyText("follower-json", say("packet-record-json"), text, say("copy"), 5));
}
function download(text, name) {
try {
const href = URL.createObjectURL(new Blob([text], { type: "application/json" }));
return make("a", { class: "follower__link", href, download: name }, say("packet-download"));
} catch {
return null;
}
}
return { drawPacket };
})();
modules["script/hand-over.js"] = (function () {
const { drawPacket } = modules["parts/follower/packet-sheet.js"];
const { unpacked } = modules["script/packet.js"];
document.addEventListener("stepward:hand-over", (event) => drawPacket((event).detail));
document.addEventListener("stepward:unpack", (event) => {
const { detail } = (event);
detail.result = unpacked(detail.flow, detail.text);
});
document.dispatchEvent(new CustomEvent("stepward:hand-over-ready"));
return {  };
})();
})();
