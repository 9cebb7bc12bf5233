"use strict";
(function () {
const modules = {};
modules["parts/chart/chart.js"] = (function () {
function startChart(section) {
  const region = section.querySelector(".chart-scroll");
  if (!(region instanceof HTMLElement)) return;
  const bringIn = (node) => {
    if (!node) return;
    const box = node.getBoundingClientRect();
    const view = region.getBoundingClientRect();
    region.scrollLeft += box.left + box.width / 2 - view.left - view.width / 2;
    region.scrollTop += box.top + box.height / 2 - view.top - Math.min(view.height / 2, 160);
  };
  bringIn(region.querySelector("#chart--start"));
  const watcher = new MutationObserver(() => bringIn(region.querySelector(".is-here")));
  watcher.observe(region, { subtree: true, attributes: true, attributeFilter: ["class"] });
}
return { startChart };
})();
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
return { readNumber, fieldsOf, measuredValue, wayOfValue, bandShows };
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
  const entry = { what: "way", procedure: frame.procedure, step: step.id, way: index, ...reading, at: clock.wall, depth: run.frames.length - 1 };
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
const { fieldsOf, measuredValue, readNumber, wayOfValue } = modules["script/reading.js"];
const { cautionsDue, handOver, isAction, leftBehind, neverStarts, notChecked, noted, possibleModels, procedureOf, stepOf, timesDone, waitMs, withCount, withDeed, withSnapshot } = modules["script/run-state.js"];
const MOST_SILENT_STEPS = 1000;
function begin(flow, clock) {
  const never = neverStarts(flow.procedures[flow.procedure]);
  return {
    schema: "stepward/run/1", edition: flow.edition, screen: never === null ? { name: "start" } : { name: "refused", missing: [never] }, frames: [], step: null, arrival: { shown: [], counted: false, again: false },
    facts: firstFacts("ordinary"), counts: {}, model: null, caller: false, frameCount: 0,
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
  any: { back: wentBack, "take-over": (_flow, state) => (state.frames.length > 0 ? paused(state) : state) },
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
    ...state, model, caller: event.caller, facts: firstFacts(event.person), frames: [{ id: 0, procedure: flow.procedure, caller: null }], frameCount: 1,
    log: [{ what: "start", model: event.model ?? null, person: event.person, caller: event.caller, at: clock.wall }],
  };
  return arrived(flow, run, procedure.start, clock);
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
function measured(flow, state, event, clock) {
  const step = stepOf(flow, state);
  if (step.kind !== "measure") return state;
  const typed = Object.fromEntries(fieldsOf(step).map((field) => [field.id, String(event.typed?.[field.id] ?? "")]));
  const refuse = (refusal) => ({ ...state, typed, refusal });
  const values = {};
  for (const field of fieldsOf(step)) {
    const read = readNumber(typed[field.id], field);
    if ("reason" in read) return refuse(read);
    values[field.id] = read.value;
  }
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
  const value = new Set(results).size === 1 ? { value: results[0] } : {};
  return left(flow, { ...state, typed: {} }, step, ways[0], { typed, ...value }, clock);
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
  const entry = { what: "wait-over", step: state.step, seconds: Math.floor(state.wait.counted / 1000), at: clock.wall };
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
  const missing = [!PERSONS.includes(event.person) && "person", typeof event.alone !== "boolean" && "alone", ...asked].filter(Boolean);
  if (missing.length > 0) return { ...state, typed: event, refusal: { reason: "unanswered", missing } };
  const confirmed = state.facts.holds.filter((id) => event.conditions[id]);
  const entry = { what: "resume", person: event.person, alone: event.alone, confirmed, at: clock.wall };
  const facts = afterBreak(flow, state.facts, event.person, confirmed);
  const log = [...state.log, entry];
  if (!event.alone) return { ...state, facts, log, typed: event, refusal: { reason: "not-alone", missing: ["alone"] } };
  const kept = state.facts.holds.every((id) => facts.holds.includes(id));
  const wait = state.wait === null || kept ? state.wait : { ...state.wait, counted: 0 };
  const run = { ...state, facts, log, wait, typed: {}, arrival: { ...state.arrival, shown: [] }, screen: { name: "back" } };
  return run.arrival.counted ? guarded(flow, run, clock) : arrived(flow, run, run.step, clock);
}
return { begin, advance };
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
const WORDS = {
  follow: "Follow this procedure step by step",
  stopCard: "Stop card",
  stopCardFor: "Stop card: smoke, shock, burn, toner in the eyes",
  begin: "Begin",
  next: "Done, go on",
  calleeDone: "Done, back to {title}",
  back: "Back",
  takeOver: "Someone else takes over",
  startAgain: "Start again",
  confirmStartAgain: "Tap again to start again; the run so far is forgotten",
  enter: "Enter the reading",
  enterAll: "Enter the readings",
  unsure: "I cannot tell",
  unsureMeasure: "I cannot measure it",
  acknowledge: "I have read this and keep to it",
  acknowledgeCaller: "The person at the machine repeated it",
  readAloud: "Read this aloud",
  goOn: "Go on",
  pathSoFar: "Path so far",
  pathEmpty: "Nothing answered yet.",
  knownNow: "What is known now",
  record: "Record to copy",
  copy: "Copy the record",
  copied: "Copied",
  askModel: "Which machine is it?",
  modelUnknown: "Not sure which of these",
  modelOther: "None of these",
  askPerson: "Who is at the machine?",
  askAlone: "Is anybody else working on the machine?",
  aloneYes: "No, nobody else",
  aloneNo: "Yes, somebody is",
  askCaller: "Are you at the machine yourself?",
  callerNo: "Yes, I am at the machine",
  callerYes: "No, I am talking to the person there",
  stillOpen: "Not answered yet",
  unanswered: "Please answer every question first.",
  personOrdinary: "Somebody who uses it, without instruction",
  personInstructed: "Somebody instructed in its care",
  personSkilled: "A trained service technician",
  needOrdinary: "anybody who uses the machine",
  needInstructed: "somebody instructed in its care",
  needSkilled: "a trained service technician",
  kindAsk: "Question",
  kindMeasure: "Measurement",
  kindDo: "Action",
  kindCaution: "Before you go on",
  kindWait: "Wait",
  kindStart: "Before the first step",
  kindResume: "After a break",
  kindEnding: "End of the procedure",
  kindHandOver: "Stopped",
  dangerWord: "DANGER",
  warningWord: "WARNING",
  cautionWord: "CAUTION",
  noticeWord: "NOTICE",
  nature: "What it is",
  consequence: "What can happen",
  avoid: "What to do",
  beginWait: "Done, start the wait of {time}",
  waitReached: "This is already so, by the time that has passed: {name}",
  waitLeft: "still to wait",
  waitOver: "The time is over.",
  waitKeepOpen: "Keep this page open. Only time that surely passed counts, so the wait may be longer than the clock on the wall says.",
  waitDoubt: "The clock was changed, or this device slept. The time in between is not counted.",
  rangeUnit: "{from} to {to} {unit}",
  refusedEmpty: "Type a number.",
  refusedLetters: "Only digits and one comma or point. The unit stands beside the field.",
  refusedSign: "A reading here has no sign: {range}.",
  refusedSeparators: "One comma or point at most, with digits on both sides.",
  refusedWhole: "A whole number, please: {range}.",
  refusedRange: "This cannot be right: readings here lie from {range}.",
  refusedValue: "These readings together give no value that can be right. Check each of them.",
  meantTen: "Did you mean {value} {unit}?",
  meantInch: "Typed in inches? That is {value} {unit}.",
  resumeTitle: "Who is there now, and how is the machine?",
  resumeWhy: "Some time has passed, or somebody else is here. What nobody confirms no longer counts, and cautions are shown again.",
  askStill: "Is this still so, without a break?",
  stillYes: "Yes, I have seen it",
  stillNo: "No, or not sure",
  notAlone: "Go on only when nobody else works on the machine. Speak with them first.",
  staysDone: "Going back changes your answers only. This stays done at the machine:",
  olderEdition: "This page was renewed since your last run. That run cannot be continued: begin again.",
  linkToStep: "The link leads to one step. A procedure always begins at its start, so that no caution is missed. To read it through, show the whole text below.",
  storageBlocked: "This browser stores nothing here. If the page is closed the run is lost: copy the record before you leave.",
  reviewOverdue: "This procedure was due for review on {day}. Ask whether there is a newer one.",
  notReleased: "This procedure is not released. It is not for use at a machine.",
  failed: "The step-by-step view stopped. Follow the whole text below; each caution stands above its step.",
  wholeTextAway: "The whole text is put away while the procedure is followed step by step.",
  wholeTextShow: "Show the whole text",
  wholeTextHide: "Put the whole text away",
  handOverTitle: "Stop here and hand over",
  handOverWhy: "The next step is not shown, because this is not given:",
  handOverDo: "Leave the machine as it is, keep others away from it, and hand the job on together with the record below.",
  missingCondition: "Not known to hold: {name}",
  missingPerson: "It takes {person}.",
  missingModel: "The machine is not known well enough, or this is not for it.",
  missingFormula: "The value cannot be computed here.",
  missingWithdrawn: "The procedure that would begin here is withdrawn.",
  missingOutcome: "No way on is written for this end.",
  missingWay: "No way on is written here.",
  missingStep: "The next step is missing.",
  missingTask: "This job is carried out only as part of another procedure.",
  missingAlone: "Somebody else is working on the machine. Speak with them first, then begin.",
  refusedTitle: "Not to be started like this",
  endFixed: "Fixed",
  endNoFault: "No fault found",
  endReferred: "Goes on in another procedure",
  endOtherMachine: "Belongs on another machine",
  endHandedOver: "Handed over",
  endOutOfService: "Out of service: nobody uses the machine",
  endTask: "Ended: {outcome}",
  goToProcedure: "Go on with: {title}",
  byCode: "Go on with the procedure that lists the code on the panel.",
  notChecked: "Nobody has checked that the fault is gone.",
  leftBehind: "Undo this before anybody uses the machine: {name}",
  machineLeft: "How the machine is left",
  nothingKnown: "Nothing is known to hold.",
  knownPerson: "At the machine",
  knownModel: "Machine",
  knownHolds: "Holds",
  knownCautions: "Cautions in force",
  knownNone: "none",
  pathCarryOut: "Carried out",
  pathOtherwise: "tried often enough",
  recordTitle: "{title}, revision {revision}",
  recordModel: "Machine: {model}",
  recordPerson: "At the machine: {person}",
  recordCaution: "Caution given: {name}",
  recordCautionCaller: "Caution read out and repeated: {name}",
  recordBack: "Went back to: {step}",
  recordWait: "Waited {time}: {step}",
  recordResume: "After a break: {person}; still so: {names}",
  recordHandOver: "Stopped: {missing}",
  recordEnding: "End: {outcome}. {step}",
};
function say(key, values = {}) {
  return WORDS[key].replace(/\{([a-z]+)\}/g, (whole, name) => (Object.hasOwn(values, name) ? String(values[name]) : whole)).trim();
}
function sayOf(family, id) {
  const key = family + id.split("-").map((part) => part.charAt(0).toUpperCase() + part.slice(1)).join("");
  return Object.hasOwn(WORDS, key) ? say((key)) : id;
}
function duration(seconds) {
  const parts = [[Math.floor(seconds / 3600), "h"], [Math.floor(seconds / 60) % 60, "min"], [seconds % 60, "s"]];
  return parts.filter(([count]) => count > 0).map(([count, unit]) => `${count} ${unit}`).join(" ") || "0 s";
}
return { WORDS, say, sayOf, duration };
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
  return id === null || id === "unknown" ? say("modelUnknown") : flow.models.find((one) => one.id === id)?.name ?? id;
}
function missingWords(flow, missing) {
  if (missing.kind === "condition") return say("missingCondition", { name: conditionName(flow, missing.id) });
  if (missing.kind === "person") return say("missingPerson", { person: sayOf("need", missing.id) });
  return sayOf("missing", missing.kind);
}
function outcomeWords(outcome) {
  const words = sayOf("end", outcome);
  return words === outcome ? say("endTask", { outcome: outcome.replaceAll("-", " ") }) : words;
}
function pathWords(flow, entry) {
  const step = flow.procedures[entry.procedure].steps[entry.step];
  if (entry.what === "carry-out") return { asked: say("pathCarryOut"), said: step.text };
  if (entry.what === "ending") return { asked: step.text, said: outcomeWords(entry.outcome) };
  const way = step.ways[entry.way];
  const unit = step.measure?.unit ?? "";
  const said = entry.value !== undefined ? `${entry.value} ${unit}`.trim()
    : way.kind === "unsure" ? say(step.kind === "measure" ? "unsureMeasure" : "unsure")
    : way.kind === "otherwise" ? say("pathOtherwise")
    : way.kind === "model" ? modelName(flow, way.text)
    : way.kind === "outcome" ? outcomeWords(way.text)
    : way.text ?? "";
  return { asked: step.kind === "by-model" ? say("knownModel") : step.text, said };
}
function timeOf(wall) {
  return new Date(wall).toISOString().slice(0, 16).replace("T", " ") + " UTC";
}
function recordText(flow, state) {
  const procedure = flow.procedures[flow.procedure];
  const lines = [say("recordTitle", { title: procedure.title, revision: procedure.revision ?? "-" }), flow.library];
  let first = true;
  for (const entry of state.log) {
    if (first) lines.push(timeOf(entry.at));
    first = false;
    lines.push(...recordLines(flow, state, entry));
  }
  return lines.join("\n") + "\n";
}
function recordLines(flow, state, entry) {
  const textOf = (id) => stepText(flow, entry.procedure, id);
  switch (entry.what) {
    case "start": return [...(flow.models.length > 0 ? [say("recordModel", { model: modelName(flow, entry.model) })] : []), say("recordPerson", { person: sayOf("person", entry.person) })];
    case "caution": return [say(entry.caller ? "recordCautionCaller" : "recordCaution", { name: hazardName(flow, entry.hazard) })];
    case "back": return [say("recordBack", { step: textOf(entry.to) })];
    case "wait-over": return [say("recordWait", { time: duration(entry.seconds), step: textOf(entry.step) })];
    case "resume": return [say("recordResume", { person: sayOf("person", entry.person), names: entry.confirmed.map((id) => conditionName(flow, id)).join(", ") || say("knownNone") })];
    case "hand-over": return [say("recordHandOver", { missing: entry.missing.map((one) => missingWords(flow, one)).join("; ") })];
    case "ending": return entry.depth === 0 ? [say("recordEnding", { outcome: outcomeWords(entry.outcome), step: textOf(entry.step) })] : [];
    case "way": case "carry-out": {
      const { asked, said } = pathWords(flow, entry);
      const between = /[?.!:]$/.test(asked) ? " " : ": ";
      return [`${"  ".repeat(entry.depth)}${asked}${said === "" ? "" : between + said}`];
    }
    default: return [];
  }
}
function stepText(flow, procedure, id) {
  const own = procedure ? [flow.procedures[procedure]] : Object.values(flow.procedures);
  return own.find((one) => Object.hasOwn(one.steps, id))?.steps[id].text ?? id;
}
return { conditionName, hazardName, modelName, missingWords, outcomeWords, pathWords, recordText };
})();
modules["parts/follower/screens.js"] = (function () {
const { PERSONS } = modules["script/facts.js"];
const { fieldsOf } = modules["script/reading.js"];
const { neverStarts, possibleModels, procedureOf, stepOf, waitMs } = modules["script/run-state.js"];
const { alertSymbol, make } = modules["parts/follower/make.js"];
const { conditionName, hazardName, missingWords, modelName, outcomeWords, recordText } = modules["parts/follower/record.js"];
const { duration, say, sayOf } = modules["parts/follower/words.js"];
function drawScreen(view) {
  const draw = (SCREENS)[view.state.screen.name];
  return draw(view);
}
const SCREENS = { start, caution, step, wait, resume, ending, "hand-over": handOver, refused };
function way(label, press, kind = "") {
  return make("button", { type: "button", class: `follower__way ${kind}`.trim(), "data-choice": true, click: press }, make("span", { class: "follower__label" }, label));
}
function submit(label) {
  return make("button", { type: "submit", class: "follower__way follower__way--main" }, make("span", { class: "follower__label" }, label));
}
function choice(state, name, legend, choices, hint = null) {
  const condition = name.startsWith("still-") ? name.slice("still-".length) : null;
  const given = condition === null ? state.typed[name] : state.typed.conditions?.[condition];
  const chosen = given === true ? "yes" : given === false ? "no" : given;
  const open = state.refusal?.missing?.includes(condition ?? name);
  const options = choices.map(([value, label]) => make("label", { class: "follower__option" }, make("input", { type: "radio", name, value, checked: value === chosen }), make("span", {}, label)));
  const kind = open ? "follower__choice follower__choice--open" : "follower__choice";
  return make("fieldset", { class: kind }, make("legend", {}, legend), hint === null ? null : make("p", { class: "follower__hint" }, hint), open ? make("p", { class: "follower__open" }, say("stillOpen")) : null, ...options);
}
function said(answers, name) {
  const value = answers.get(name);
  return value === null ? undefined : value === "yes" ? true : value === "no" ? false : String(value);
}
const personChoices = PERSONS.map((id) => [id, sayOf("person", id)]);
function aloneChoice(state) {
  return choice(state, "alone", say("askAlone"), [["yes", say("aloneYes")], ["no", say("aloneNo")]]);
}
function start({ flow, state, send, notices }) {
  const procedure = flow.procedures[flow.procedure];
  const models = procedure.models.map((id) => [id, modelName(flow, id)]);
  models.push(["unknown", say("modelUnknown")]);
  if (procedure.models.length < flow.models.length) models.push(["other", say("modelOther")]);
  const body = [
    ...notices.map(notice),
    ...refused_(state),
    flow.models.length > 0 ? choice(state, "model", say("askModel"), models) : null,
    choice(state, "person", say("askPerson"), personChoices),
    aloneChoice(state),
    choice(state, "caller", say("askCaller"), [["no", say("callerNo")], ["yes", say("callerYes")]]),
  ].filter((one) => one !== null);
  const form = (element) => {
    const answers = new FormData(element);
    send({ type: "start", model: said(answers, "model"), person: said(answers, "person"), alone: said(answers, "alone"), caller: said(answers, "caller") });
  };
  return { kind: say("kindStart"), title: say("follow"), body, ways: [submit(say("begin"))], form };
}
function refused_(state) {
  if (state.refusal?.reason === "not-alone") return [problem(say("notAlone"))];
  return state.refusal?.reason === "unanswered" ? [problem(say("unanswered"))] : [];
}
function notice(text) {
  return make("p", { class: "follower__notice" }, text);
}
function problem(text) {
  return make("p", { class: "follower__problem", role: "alert" }, text);
}
function caution({ flow, state, send, sign }) {
  const hazard = flow.hazards.find((one) => one.id === state.screen.hazard);
  const rows = ["nature", "consequence", "avoid"].filter((key) => hazard[key] !== null);
  const texts = rows.map((key) => make("div", { class: `caution__${key}` }, make("dt", {}, say((key))), make("dd", {}, hazard[key])));
  const word = make("span", { class: "caution__word" }, hazard.signalWord === "notice" ? null : alertSymbol(), say((`${hazard.signalWord}Word`)));
  const panel = make("div", { class: `caution caution--${hazard.signalWord}`, "data-hazard": hazard.id },
    make("div", { class: "caution__panel" }, word, hazard.place === null ? null : make("span", { class: "caution__where" }, hazard.place)),
    make("div", { class: "caution__body" }, sign(hazard), make("dl", { class: "caution__texts" }, ...texts)));
  const aloud = state.caller ? make("div", { class: "follower__aloud" }, make("p", { class: "follower__small" }, say("readAloud")), make("p", {}, hazard.spoken)) : null;
  const press = () => send({ type: "acknowledge", hazard: hazard.id });
  const body = [panel, aloud].filter((one) => one !== null);
  return { kind: say("kindCaution"), title: hazard.name, body, ways: [way(say(state.caller ? "acknowledgeCaller" : "acknowledge"), press, "follower__way--main")] };
}
function step(view) {
  const { flow, state, send, words } = view;
  const one = stepOf(flow, state);
  const body = [...stays(view), ...words(procedureOf(flow, state).id, one)];
  if (one.kind === "measure") return measurement(view, one, body);
  if (one.kind === "ask") {
    const ways = one.ways.map((answer, index) => [answer, index]).filter(([answer]) => answer.kind === "answer" || answer.kind === "unsure");
    const buttons = ways.map(([answer, index]) => way(answer.kind === "unsure" ? say("unsure") : answer.text, () => send({ type: "answer", way: index }), answer.kind === "unsure" ? "follower__way--unsure" : ""));
    return { kind: say("kindAsk"), title: one.text, body, ways: buttons };
  }
  const needed = waitMs(flow, state, one);
  if (one.waitFor !== null && state.facts.holds.includes(one.waitFor)) body.push(notice(say("waitReached", { name: conditionName(flow, one.waitFor) })));
  const caller = state.frames.length > 1 && one.outcome !== null ? flow.procedures[state.frames.at(-2).procedure].title : null;
  const label = needed > 0 ? say("beginWait", { time: duration(Math.ceil(needed / 1000)) }) : caller !== null ? say("calleeDone", { title: caller }) : say("next");
  return { kind: say("kindDo"), title: one.text, body, ways: [way(label, () => send({ type: needed > 0 ? "begin-wait" : "next" }), "follower__way--main")] };
}
function stays({ flow, state }) {
  if (state.notice?.name !== "stays-done") return [];
  const deeds = state.notice.deeds.map((deed) => make("li", {}, flow.procedures[deed.procedure].steps[deed.step].text));
  return [make("div", { class: "follower__notice" }, make("p", {}, say("staysDone")), make("ul", {}, ...deeds))];
}
function measurement({ state, send }, one, body) {
  const fields = fieldsOf(one);
  const drawn = fields.map((field) => readingField(field, state, send, fields.length === 1 ? one.text : field.ask ?? field.id));
  const unsure = one.ways.findIndex((answer) => answer.kind === "unsure");
  const ways = [submit(say(fields.length === 1 ? "enter" : "enterAll"))];
  if (unsure >= 0) ways.push(way(say("unsureMeasure"), () => send({ type: "answer", way: unsure }), "follower__way--unsure"));
  const form = (element) => {
    const answers = new FormData(element);
    send({ type: "reading", typed: Object.fromEntries(fields.map((field) => [field.id, String(answers.get(field.id) ?? "")])) });
  };
  return { kind: say("kindMeasure"), title: one.text, body: [...body, ...drawn], ways, form };
}
function readingField(field, state, send, label) {
  const range = say("rangeUnit", field);
  const refusal = state.refusal?.field === field.id ? state.refusal : null;
  const id = `follower-reading-${field.id}`;
  const input = make("input", {
    id, name: field.id, inputmode: "decimal", autocomplete: "off", enterkeyhint: "done", class: "follower__input", value: state.typed[field.id] ?? "",
    "aria-describedby": `${id}-range`, "aria-invalid": refusal ? "true" : null, "aria-errormessage": refusal ? `${id}-why` : null,
  });
  const meant = (refusal?.meant ?? []).map((guess) =>
    make("button", { type: "button", class: "follower__meant", click: () => send({ type: "meant", field: field.id, value: guess.value }) }, say(guess.because === "inch" ? "meantInch" : "meantTen", { value: guess.value, unit: field.unit })));
  return make("div", { class: "follower__reading" },
    make("label", { for: id }, label),
    make("span", { class: "follower__blank" }, input, make("span", { class: "follower__unit" }, field.unit)),
    make("span", { class: "follower__small", id: `${id}-range` }, range),
    refusal ? make("p", { class: "follower__problem", role: "alert", id: `${id}-why` }, refusalWords(refusal, field)) : null,
    ...meant);
}
function refusalWords(refusal, field) {
  const range = say("rangeUnit", { from: refusal.from ?? field.from, to: refusal.to ?? field.to, unit: refusal.unit ?? field.unit });
  const key = { empty: "refusedEmpty", letters: "refusedLetters", sign: "refusedSign", separators: "refusedSeparators", whole: "refusedWhole", range: "refusedRange", "no-value": "refusedValue" }[ (refusal.reason)];
  return say((key ?? "refusedEmpty"), { range });
}
function wait(view) {
  const { flow, state, send, words } = view;
  const one = stepOf(flow, state);
  const over = state.wait.counted >= state.wait.needed;
  const clock = make("p", { class: "follower__clock", role: "timer", "data-clock": true }, make("span", { class: "follower__time" }, clockWords(state.wait)), " ", make("span", { class: "follower__small" }, say("waitLeft")));
  const body = [...words(procedureOf(flow, state).id, one), over ? notice(say("waitOver")) : clock];
  if (state.wait.doubt && !over) body.push(notice(say("waitDoubt")));
  if (!over) body.push(make("p", { class: "follower__small" }, say("waitKeepOpen")));
  return { kind: say("kindWait"), title: one.text, body, ways: over ? [way(say("goOn"), () => send({ type: "next" }), "follower__way--main")] : [] };
}
function clockWords(running) {
  const left = Math.max(0, Math.ceil((running.needed - running.counted) / 1000));
  const pair = (number) => String(number).padStart(2, "0");
  const hours = Math.floor(left / 3600);
  return `${hours > 0 ? `${hours}:` : ""}${pair(Math.floor(left / 60) % 60)}:${pair(left % 60)}`;
}
function resume({ flow, state, send }) {
  const asked = state.facts.holds.map((id) => choice(state, `still-${id}`, conditionName(flow, id), [["yes", say("stillYes")], ["no", say("stillNo")]], say("askStill")));
  const body = [make("p", {}, say("resumeWhy")), ...refused_(state), choice(state, "person", say("askPerson"), personChoices), aloneChoice(state), ...asked];
  const form = (element) => {
    const answers = new FormData(element);
    const conditions = Object.fromEntries(state.facts.holds.map((id) => [id, said(answers, `still-${id}`)]));
    send({ type: "confirm", person: said(answers, "person"), alone: said(answers, "alone"), conditions });
  };
  return { kind: say("kindResume"), title: say("resumeTitle"), body, ways: [submit(say("goOn"))], form };
}
function ending(view) {
  const { flow, state, words } = view;
  const one = stepOf(flow, state);
  const left = state.screen.left.map((id) => problem(say("leftBehind", { name: conditionName(flow, id) })));
  const unchecked = state.screen.missing.length > 0 ? [problem(say("notChecked"))] : [];
  const holds = state.facts.holds.map((id) => make("li", {}, conditionName(flow, id)));
  const machine = make("div", { class: "follower__left" }, make("h3", {}, say("machineLeft")), holds.length > 0 ? make("ul", {}, ...holds) : make("p", {}, say("nothingKnown")));
  const body = [make("p", { class: "follower__outcome" }, outcomeWords(one.outcome)), ...unchecked, ...left, ...words(procedureOf(flow, state).id, one), ...referral(one), machine, record(view)];
  return { kind: say("kindEnding"), title: one.text, body, ways: [] };
}
function referral(one) {
  if (one.referTo === null) return [];
  if (one.referTo.title === null) return [make("p", {}, say("byCode"))];
  return [make("p", {}, make("a", { class: "follower__link", href: `${one.referTo.id}.html` }, say("goToProcedure", one.referTo)))];
}
function record({ flow, state }) {
  const area = (make("textarea", { class: "follower__record", rows: 10, readonly: true, id: "follower-record" }));
  area.value = recordText(flow, state);
  const copy = make("button", { type: "button", class: "follower__meant", click: () => copyFrom(area, copy) }, say("copy"));
  return make("div", {}, make("label", { for: "follower-record", class: "follower__recordname" }, say("record")), area, copy);
}
function copyFrom(area, button) {
  area.select();
  navigator.clipboard?.writeText(area.value).then(() => { button.textContent = say("copied"); }, () => {});
}
function handOver(view) {
  const { flow, state } = view;
  const missing = make("ul", { class: "follower__missing" }, ...state.screen.missing.map((one) => make("li", {}, missingWords(flow, one))));
  const body = [make("p", {}, say("handOverWhy")), missing, make("p", { class: "follower__do" }, say("handOverDo")), record(view)];
  return { kind: say("kindHandOver"), title: say("handOverTitle"), body, ways: [] };
}
function refused({ flow, state, send }) {
  const missing = state.screen.missing.map((one) => make("p", { class: "follower__do" }, missingWords(flow, one)));
  const again = neverStarts(flow.procedures[flow.procedure]) === null;
  return { kind: say("kindHandOver"), title: say("refusedTitle"), body: missing, ways: again ? [way(say("startAgain"), () => send({ type: "restart" }))] : [] };
}
function knownNow({ flow, state }) {
  const list = (names) => (names.length > 0 ? names.join("; ") : say("knownNone"));
  const rows = [
    [say("knownModel"), possibleModels(flow, state)[0] === null ? say("knownNone") : modelName(flow, state.model)],
    [say("knownPerson"), sayOf("person", state.facts.person)],
    [say("knownHolds"), list(state.facts.holds.map((id) => conditionName(flow, id)))],
    [say("knownCautions"), list(Object.keys(state.facts.ages).map((id) => hazardName(flow, id)))],
  ];
  return make("dl", { class: "follower__facts" }, ...rows.map(([name, value]) => make("div", {}, make("dt", {}, name), make("dd", {}, value))));
}
return { drawScreen, clockWords, knownNow };
})();
modules["parts/follower/follower.js"] = (function () {
const { advance, begin } = modules["script/flow-state.js"];
const { procedureOf, stepOf } = modules["script/run-state.js"];
const { make } = modules["parts/follower/make.js"];
const { pathWords } = modules["parts/follower/record.js"];
const { clockWords, drawScreen, knownNow } = modules["parts/follower/screens.js"];
const { say } = modules["parts/follower/words.js"];
const TICK_MS = 1000;
function startFollower(section) {
  const data = document.getElementById("flow-data");
  if (!data) throw new Error("the page holds no flow data");
  new Follower(section, JSON.parse(data.textContent ?? "")).open();
}
class Follower {
  constructor(section, flow) {
    this.section = section;
    this.flow = flow;
    this.key = `stepward:run:${flow.procedure}`;
    this.stored = storageWorks();
    this.wholeText = new WholeText(flow);
    this.state = begin(flow, now());
    this.awake = null;
    this.armed = false;
  }
  open() {
    const saved = this.load();
    this.state = saved ?? this.state;
    this.byLink = /^#step-/.test(location.hash);
    this.draw();
    this.section.hidden = false;
    this.wholeText.putAway(true);
    this.section.addEventListener("keydown", (event) => this.keyPressed(event));
    addEventListener("hashchange", () => this.linked());
    setInterval(() => this.tick(), TICK_MS);
    document.addEventListener("visibilitychange", () => this.tick());
    if (this.byLink) this.section.scrollIntoView();
  }
  linked() {
    if (!/^#step-/.test(location.hash) || !this.wholeText.away) return;
    this.byLink = true;
    this.draw();
    this.heading()?.focus();
    this.section.scrollIntoView();
  }
  load() {
    try {
      const text = localStorage.getItem(this.key);
      const saved = text === null ? null : JSON.parse(text);
      return saved?.schema === this.state.schema ? advance(this.flow, saved, { type: "reopen" }, now()) : null;
    } catch {
      return null;
    }
  }
  save() {
    try {
      if (this.state.frames.length > 0) localStorage.setItem(this.key, JSON.stringify(this.state));
      else localStorage.removeItem(this.key);
    } catch {
      this.stored = false;
    }
  }
  send(event) {
    const before = this.state;
    this.state = advance(this.flow, before, event, now());
    this.armed = false;
    this.save();
    const moved = this.state.changed !== before.changed;
    this.redraw();
    if (moved || event.type === "restart") this.arrive();
    else this.section.querySelector(".follower__problem")?.scrollIntoView({ block: "center" });
  }
  redraw() {
    try {
      this.draw();
    } catch (problem) {
      this.section.replaceChildren(make("p", { class: "follower__problem", role: "alert" }, say("failed")));
      this.wholeText.offer(true);
      this.wholeText.putAway(false);
      console.error(problem);
    }
  }
  arrive() {
    this.heading()?.focus({ preventScroll: true });
    const top = this.section.getBoundingClientRect().top;
    if (top < 0 || top > innerHeight / 3) this.section.scrollIntoView();
  }
  tick() {
    const before = this.state;
    this.state = advance(this.flow, before, { type: "tick" }, now());
    if (this.state.wait === null) return;
    this.save();
    const over = (state) => state.wait.counted >= state.wait.needed;
    if (this.state.screen.name !== "wait") return;
    if (before.wait === null || over(before) !== over(this.state) || before.wait.doubt !== this.state.wait.doubt) this.redraw();
    else if (!over(this.state)) this.setClock();
  }
  setClock() {
    const time = this.section.querySelector(".follower__time");
    if (time) time.textContent = clockWords(this.state.wait);
  }
  heading() {
    return (this.section.querySelector(".follower__title"));
  }
  draw() {
    const { flow, state } = this;
    const view = { flow, state, send: (event) => this.send(event), words: (procedure, step) => wordsOf(flow, procedure, step), sign: signOf, notices: this.notices() };
    const drawing = drawScreen(view);
    const open = [...this.section.querySelectorAll("details[open]")].map((one) => one.className);
    const title = make("h2", { class: "follower__title", id: "follower-title", tabindex: "-1" }, drawing.title);
    const ways = make("div", { class: "follower__ways", role: "group", "aria-labelledby": "follower-title" }, ...drawing.ways);
    ways.querySelectorAll("[data-choice]").forEach((button, place) => numbered(button, place, ways.querySelectorAll("[data-choice]").length));
    const body = make("div", { class: "follower__body" }, make("p", { class: "follower__kind" }, drawing.kind), title, ...drawing.body);
    const card = make(drawing.form ? "form" : "div", { class: "follower__card", "data-screen": state.screen.name, novalidate: true }, this.head(), body, ways, this.foot());
    if (drawing.form) card.addEventListener("submit", (event) => { event.preventDefault(); drawing.form?.((card)); });
    this.section.replaceChildren(card, ...this.sheets(view, open));
    this.section.setAttribute("aria-labelledby", "follower-title");
    this.wholeText.offer(state.frames.length === 0);
    markChart(flow, state);
    this.stayAwake(state.screen.name === "wait");
  }
  notices() {
    const procedure = this.flow.procedures[this.flow.procedure];
    const today = new Date().toISOString().slice(0, 10);
    return [
      this.state.notice?.name === "older-edition" && say("olderEdition"),
      this.byLink && say("linkToStep"),
      !this.stored && say("storageBlocked"),
      procedure.status !== "released" && say("notReleased"),
      procedure.reviewBy !== null && procedure.reviewBy < today && say("reviewOverdue", { day: procedure.reviewBy }),
    ].filter((text) => typeof text === "string");
  }
  head() {
    const ids = this.state.frames.length > 0 ? this.state.frames.map((frame) => frame.procedure) : [this.flow.procedure];
    const crumbs = ids.map((id, place) => make("li", { "aria-current": place === ids.length - 1 ? "step" : null }, this.flow.procedures[id].title));
    return make("div", { class: "follower__head" }, make("ol", { class: "follower__crumbs" }, ...crumbs), make("a", { class: "follower__stop", href: "../stop.html", title: say("stopCardFor") }, say("stopCard")));
  }
  foot() {
    const { state } = this;
    const running = state.frames.length > 0;
    const button = (key, click) => make("button", { type: "button", class: "follower__minor", "data-minor": key, click }, say(key));
    const back = running && state.history.length > 0 && state.screen.name !== "resume" ? button("back", () => this.send({ type: "back" })) : null;
    const over = running && !["resume", "ending"].includes(state.screen.name) ? button(("takeOver"), () => this.send({ type: "take-over" })) : null;
    const again = running ? make("button", { type: "button", class: "follower__minor", "data-minor": "restart", click: (event) => this.restart((event.currentTarget)) }, say("startAgain")) : null;
    return make("div", { class: "follower__foot" }, back, over, again);
  }
  restart(button) {
    if (this.armed || this.state.screen.name === "ending") this.send({ type: "restart" });
    else {
      this.armed = true;
      button.textContent = say("confirmStartAgain");
    }
  }
  sheets(view, open) {
    const { flow, state } = this;
    if (state.frames.length === 0) return [];
    const entries = state.path.map((entry) => {
      const { asked, said } = pathWords(flow, entry);
      return make("li", { class: entry.depth > 0 ? "follower__inner" : null }, make("span", { class: "follower__asked" }, asked), " ", make("strong", {}, said));
    });
    const sheet = (name, title, content) =>
      make("details", { class: `follower__sheet follower__sheet--${name}`, open: open.includes(`follower__sheet follower__sheet--${name}`) || (name === "path" && state.screen.name === "ending") }, make("summary", {}, title), content);
    const path = entries.length > 0 ? make("ol", { class: "follower__path" }, ...entries) : make("p", {}, say("pathEmpty"));
    return [sheet("path", `${say("pathSoFar")} (${entries.length})`, path), sheet("known", say("knownNow"), knownNow(view))];
  }
  keyPressed(event) {
    const target = (event.target);
    const typing = target.matches("textarea, input:not([type=radio])");
    if (typing || event.ctrlKey || event.altKey || event.metaKey || event.repeat) return;
    const chosen = /^[1-9]$/.test(event.key) ? this.section.querySelectorAll("[data-choice]")[Number(event.key) - 1] : event.key === "Backspace" ? this.section.querySelector("[data-minor=back]") : null;
    if (chosen instanceof HTMLElement) {
      event.preventDefault();
      chosen.click();
    }
  }
  async stayAwake(wanted) {
    try {
      if (wanted && (this.awake === null || this.awake.released)) this.awake = await navigator.wakeLock?.request("screen") ?? null;
      if (!wanted && this.awake !== null) await this.awake.release();
    } catch {
      this.awake = null;
    }
  }
}
function now() {
  return { wall: Date.now(), running: performance.now() };
}
function storageWorks() {
  try {
    localStorage.setItem("stepward:try", "1");
    localStorage.removeItem("stepward:try");
    return true;
  } catch {
    return false;
  }
}
function numbered(button, place, all) {
  if (all > 1 && place < 9) button.prepend(make("kbd", { class: "follower__key", "aria-hidden": "true" }, String(place + 1)));
}
function wordsOf(flow, procedure, step) {
  const texts = step.words.map((text) => make("p", {}, text));
  const source = procedure === flow.procedure ? document.querySelector(`#step-${CSS.escape(step.id)} .step__words`) : null;
  if (source === null) return texts.length > 0 ? [make("div", { class: "follower__words" }, ...texts)] : [];
  const copy = (source.cloneNode(true));
  for (const element of [copy, ...copy.querySelectorAll("[id]")]) element.removeAttribute("id");
  copy.classList.add("follower__words");
  return [copy];
}
function signOf(hazard) {
  const drawn = document.querySelector(`[data-hazard="${CSS.escape(hazard.id)}"] .sign`);
  return drawn === null ? null : drawn.cloneNode(true);
}
function markChart(flow, state) {
  document.querySelectorAll(".chart .is-here, .chart .is-taken").forEach((mark) => mark.classList.remove("is-here", "is-taken"));
  if (state.frames.length === 0) return;
  const own = state.path.filter((entry) => entry.procedure === flow.procedure && entry.depth === 0);
  for (const entry of own.filter((entry) => entry.what === "way")) {
    const edges = document.querySelectorAll(`.chart__edge[data-from="${entry.step}"][data-way="${entry.way}"]`);
    edges.forEach((edge) => edge.classList.add("is-taken"));
  }
  const here = state.frames.length === 1 ? stepOf(flow, state)?.id : state.frames[1].caller;
  if (here && procedureOf(flow, { frames: [] }).steps[here]) document.getElementById(`chart-${here}`)?.classList.add("is-here");
}
class WholeText {
  constructor(flow) {
    const ids = Object.keys(flow.procedures[flow.procedure].steps);
    this.sections = ids.map((id) => document.getElementById(`step-${id}`)).filter((section) => section !== null);
    this.away = false;
    this.button = make("button", { type: "button", class: "follower__minor", click: () => this.putAway(!this.away) });
    this.note = make("div", { class: "follower__away" }, make("p", {}, say("wholeTextAway")), this.button);
    this.sections[0]?.before(this.note);
  }
  putAway(away) {
    this.away = away;
    for (const section of this.sections) section.classList.toggle("is-put-away", away);
    this.button.textContent = say(away ? "wholeTextShow" : "wholeTextHide");
    this.button.setAttribute("aria-expanded", String(!away));
  }
  offer(allowed) {
    if (!allowed) this.putAway(true);
    this.button.hidden = !allowed;
  }
}
return { startFollower };
})();
modules["script/start.js"] = (function () {
const { startChart } = modules["parts/chart/chart.js"];
const { startFollower } = modules["parts/follower/follower.js"];
const PARTS = { chart: startChart, follower: startFollower };
function startParts(root) {
  for (const element of root.querySelectorAll("[data-part]")) {
    const start = PARTS[element.getAttribute("data-part") ?? ""];
    try {
      if (start && element instanceof HTMLElement) start(element);
    } catch (problem) {
      if (element instanceof HTMLElement && element.dataset.part === "follower") element.hidden = true;
      root.querySelectorAll(".is-put-away").forEach((text) => text.classList.remove("is-put-away"));
      console.error(problem);
    }
  }
}
if (typeof document !== "undefined") startParts(document);
return { startParts };
})();
})();
