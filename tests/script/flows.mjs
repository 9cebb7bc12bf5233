// Flows for the tests, in the shape in which the compiler writes them, with every key that a step may lack filled in.

const STEP = {
  words: [], seconds: null, cautions: [], exposes: [], requires: [], least: null, wait: null, waitFor: null, clears: [], sets: [], cures: [],
  atMost: null, outcome: null, referTo: null, callee: null, measure: null, ways: [],
};
const WAY = { text: null, clears: [], sets: [], person: null, fixed: false, limit: null };
const CONDITION = { clears: [], after: null, takes: null, shownBy: null, triedOut: false, mustClear: false };
const HAZARD = {
  signalWord: "warning", sign: null, place: null, nature: "It is there.", consequence: "It hurts.", avoid: "Keep away.", spoken: "Keep away.",
  requires: [], returnsWith: [], least: null,
};

export const way = (kind, then, more = {}) => ({ kind, then, ...WAY, ...more });
export const next = (then, more) => way("next", then, more);
export const answer = (text, then, more) => way("answer", then, { text, ...more });
export const unsure = (then) => way("unsure", then);
export const band = (limit, then, more) => way("band", then, { text: "band", limit, ...more });
export const exposed = (...hazards) => hazards.map((hazard) => ({ hazard, waived: { requires: null, least: null } }));

const step = (id, kind, more) => ({ id, kind, text: `Text of ${id}`, ...STEP, ...more });
export const ask = (id, ways, more = {}) => step(id, "ask", { ways, ...more });
export const act = (id, then, more = {}) => step(id, "do", { ways: [next(then)], ...more });
export const end = (id, outcome, more = {}) => step(id, "do", { outcome, ...more });
export const call = (id, callee, outcomes, more = {}) =>
  step(id, "carry-out", { callee, ways: Object.entries(outcomes).map(([outcome, then]) => way("outcome", then, { text: outcome })), ...more });
export const byModel = (id, models) => step(id, "by-model", { ways: Object.entries(models).map(([model, then]) => way("model", then, { text: model })) });
export const measure = (id, unit, from, to, ways, more = {}) =>
  step(id, "measure", { measure: { unit, from, to, readings: [], formula: null, match: null, ...more.measure }, ways, ...more.step });

export const procedure = (id, steps, more = {}) => ({
  id, title: `Title of ${id}`, kind: "fault-finding", status: "released", revision: 1, reviewBy: null, for: "ordinary", requires: [], models: [],
  start: steps[0].id, steps: Object.fromEntries(steps.map((one) => [one.id, one])), ...more,
});

export const flow = (procedures, more = {}) => ({
  schema: "stepward/flow/1", edition: "e1", procedure: procedures[0].id, library: "Test library", cautionWithin: { steps: 6, seconds: 900 },
  conditions: [], hazards: [], models: [], procedures: Object.fromEntries(procedures.map((one) => [one.id, one])), ...more,
});
export const condition = (id, more = {}) => ({ id, name: `Condition ${id}`, ...CONDITION, ...more });
export const hazard = (id, more = {}) => ({ id, name: `Hazard ${id}`, ...HAZARD, ...more });
export const model = (id, figures = {}, repeats = {}) => ({ id, name: `Model ${id}`, figures, repeats });

/** The machine of the tests: mains, cooling, a hot part that is hot again with the mains, a dusty one that asks for nothing. */
export const CATALOGUE = {
  conditions: [
    condition("mains-on", { clears: ["isolated"] }),
    condition("isolated", { triedOut: true }),
    condition("cooled", { after: "isolated", takes: { seconds: 1800 }, shownBy: { unit: "°C", from: null, upTo: "48" } }),
    condition("interlock-held", { mustClear: true }),
  ],
  hazards: [
    hazard("high-voltage", { signalWord: "danger", requires: ["isolated"], returnsWith: ["mains-on"], least: "instructed" }),
    hazard("hot-fuser", { requires: ["isolated", "cooled"], returnsWith: ["mains-on"], least: "skilled" }),
    hazard("toner", { signalWord: "caution", returnsWith: ["mains-on"] }),
  ],
};

/** A flow with loops, a task carried out, waits, readings, models and exposures with and without cautions of their own. */
export function nastyFlow() {
  const isolate = procedure("isolate", [
    act("plug-out", "tried", { clears: ["mains-on"], exposes: exposed("toner") }),
    ask("tried", [answer("Dead", "is-safe", { sets: ["isolated"] }), answer("Alive", "give-up"), unsure("give-up")], { atMost: 3 }),
    end("is-safe", "done"),
    end("give-up", "not-done"),
  ], { kind: "task" });
  isolate.steps.tried.ways.push(way("otherwise", "give-up"));
  const main = procedure("nasty", [
    ask("look", [answer("Yes", "who", {}), answer("No", "dust"), answer("Power is off", "power"), unsure("hand-over")], { cautions: ["toner"] }),
    act("dust", "look2", { exposes: exposed("toner") }),
    ask("look2", [answer("Again", "dust"), answer("Back", "look"), unsure("hand-over")], { atMost: 9 }),
    act("power", "dust", { sets: ["mains-on"] }),
    ask("who", [answer("Technician", "safe", { person: "skilled" }), answer("Nobody", "hand-over"), unsure("hand-over")]),
    call("safe", "isolate", { done: "cool-way", "not-done": "hand-over" }),
    ask("cool-way", [answer("Wait", "cool"), answer("Measure", "warm"), answer("Neither", "fuser"), unsure("hand-over")]),
    act("cool", "fuser", { waitFor: "cooled" }),
    measure("warm", "°C", "0", "250", [band({ inside: true, value: "48", figure: null }, "fuser", { sets: ["cooled"] }), band(null, "cool-way"), unsure("hand-over")]),
    act("fuser", "split", { exposes: exposed("hot-fuser", "high-voltage"), cautions: ["hot-fuser", "high-voltage"], cures: ["scar"] }),
    byModel("split", { desk: "inner", others: "inner2" }),
    act("inner", "test", { exposes: exposed("hot-fuser") }),
    act("inner2", "test", { exposes: exposed("high-voltage", "toner") }),
    ask("test", [answer("Clean", "close", { fixed: true }), answer("Not yet", "look"), unsure("hand-over")], { atMost: 4 }),
    end("close", "fixed"),
    end("hand-over", "handed-over", { exposes: exposed("toner") }),
  ], { models: ["desk", "floor"] });
  main.steps.look2.ways.push(way("otherwise", "hand-over"));
  main.steps.test.ways.push(way("otherwise", "hand-over"));
  isolate.models = ["desk", "floor"];
  return flow([main, isolate], { ...CATALOGUE, models: [model("desk"), model("floor")] });
}
