// What changes the facts, one thing at a time.
import assert from "node:assert/strict";
import { test } from "node:test";
import { act, ask, answer, call, CATALOGUE, end, exposed, flow, procedure, unsure } from "./flows.mjs";
import { Run } from "./run.mjs";

const DEAD = ask("tried", [answer("Dead", "next", { sets: ["isolated"] }), unsure("stop")]);
const STOP = end("stop", "handed-over");
const ofSteps = (...steps) => flow([procedure("facts", [...steps, STOP])], CATALOGUE);

test("a cleared condition voids the caution of every hazard that asks for it", () => {
  const run = new Run(ofSteps(DEAD, act("next", "plug-in", { cautions: ["high-voltage", "toner"] }), act("plug-in", "stop", { clears: ["isolated"] })), { person: "skilled" });
  run.answer("Dead").acknowledgeAll().next();
  assert.deepEqual(Object.keys(run.state.facts.ages), ["high-voltage", "toner"]);
  run.next();
  assert.deepEqual(Object.keys(run.state.facts.ages), ["toner"]);
  assert.deepEqual(run.state.facts.holds, []);
});

test("what comes after a condition goes with it", () => {
  const run = new Run(ofSteps(DEAD, act("next", "plug-in", { wait: 1800 }), act("plug-in", "stop", { sets: ["mains-on"] })), { person: "skilled" }).answer("Dead").send({ type: "begin-wait" });
  for (let minute = 0; minute < 30; minute++) run.send({ type: "here" }, 60000);
  run.next();
  assert.deepEqual(run.state.facts.holds, ["isolated", "cooled"]);
  run.next();
  assert.deepEqual(run.state.facts.holds, ["mains-on"]);
  assert.equal(run.state.facts.waited.cooled, 0);
});

test("a condition that takes time is not set by a word, nor before what it comes after", () => {
  const claim = ask("claim", [answer("Cool", "stop", { sets: ["cooled"] }), unsure("stop")]);
  assert.deepEqual(new Run(ofSteps(DEAD, { ...claim, id: "next" })).answer("Dead").answer("Cool").state.facts.holds, ["isolated"]);
  const untimed = structuredClone(ofSteps(claim));
  untimed.conditions[2].takes = null;
  assert.deepEqual(new Run(untimed).answer("Cool").state.facts.holds, []);
});

test("going back takes a person's word back", () => {
  const who = ask("who", [answer("Technician", "next", { person: "skilled" }), unsure("stop")]);
  const run = new Run(ofSteps(who, act("next", "stop"))).answer("Technician");
  assert.equal(run.state.facts.person, "skilled");
  assert.equal(run.back().state.facts.person, "ordinary");
});

test("a step's own caution is shown on every arrival, however fresh it is", () => {
  const run = new Run(ofSteps(ask("again", [answer("Again", "again"), unsure("stop")], { cautions: ["toner"] }))).acknowledge().answer("Again");
  assert.equal(run.at, "caution toner");
});

test("a plain wait begins again when something is no longer confirmed", () => {
  const run = new Run(ofSteps(DEAD, act("next", "stop", { wait: 600 }))).answer("Dead").send({ type: "begin-wait" });
  for (let minute = 0; minute < 9; minute++) run.send({ type: "here" }, 60000);
  run.send({ type: "take-over" }).send({ type: "confirm", person: "ordinary", alone: true, conditions: { isolated: false } });
  assert.equal(run.at, "wait next");
  assert.ok(run.state.wait.counted <= 1000, String(run.state.wait.counted));
});

test("carrying out counts as a step, and so does every step inside", () => {
  const inner = procedure("inner", [act("one", "over"), end("over", "done")], { kind: "task" });
  const outer = (plain) => procedure("outer", [
    act("show", plain > 0 ? "plain-0" : "job", { cautions: ["toner"] }),
    ...Array.from({ length: plain }, (_, index) => act(`plain-${index}`, index === plain - 1 ? "job" : `plain-${index + 1}`)),
    call("job", "inner", { done: "touch" }), act("touch", "stop", { exposes: exposed("toner") }), STOP,
  ]);
  // show, job, one, over are four steps: with two more the limit of six is reached.
  for (const [plain, expected] of [[2, "step touch"], [3, "caution toner"]]) {
    const run = new Run(flow([outer(plain), inner], CATALOGUE)).acknowledge().next();
    for (let step = 0; step < plain + 2; step++) run.next();
    assert.equal(run.at, expected, `${plain} plain steps`);
  }
});

test("what nobody confirmed after a break may still hold, and is said at the end", () => {
  const run = new Run(ofSteps(act("hold", "next", { sets: ["interlock-held"] }), act("next", "stop"))).next();
  run.send({ type: "take-over" }).send({ type: "confirm", person: "ordinary", alone: true, conditions: { "interlock-held": false } }).next();
  assert.deepEqual(run.state.facts.holds, []);
  assert.deepEqual(run.state.screen.left, ["interlock-held"]);
});

test("what a task needs and does not find, or cannot end with, hands over", () => {
  const inner = procedure("inner", [end("over", "not-done")], { kind: "task", requires: ["isolated"] });
  const outer = procedure("outer", [DEAD, call("next", "inner", { done: "stop" }), STOP]);
  const both = flow([outer, inner], CATALOGUE);
  assert.equal(new Run(both).answer("Dead").at, "step over");
  assert.deepEqual(new Run(both).answer("Dead").next().state.screen.missing, [{ kind: "outcome", id: "not-done" }]);
  const unmet = structuredClone(both);
  unmet.procedures.outer.steps.tried.ways[0].sets = [];
  assert.deepEqual(new Run(unmet).answer("Dead").state.screen.missing, [{ kind: "condition", id: "isolated" }]);
  const skilled = structuredClone(both);
  skilled.procedures.inner.for = "skilled";
  assert.deepEqual(new Run(skilled).answer("Dead").state.screen.missing, [{ kind: "person", id: "skilled" }]);
});

test("a step that ends what it needs itself is not shown", () => {
  const run = new Run(ofSteps(DEAD, act("next", "stop", { exposes: exposed("high-voltage"), clears: ["isolated"] })), { person: "skilled" }).answer("Dead");
  assert.equal(run.at, "hand-over next");
});

test("a hand-over goes on when the person it asked for takes over", () => {
  const run = new Run(ofSteps(DEAD, act("next", "stop", { least: "skilled" }))).answer("Dead");
  assert.equal(run.at, "hand-over next");
  run.send({ type: "take-over" }).send({ type: "confirm", person: "skilled", raised: "another", alone: true, conditions: { isolated: true } });
  assert.equal(run.at, "step next");
});

test("a task that needs something never starts by itself, nor does anything withdrawn", () => {
  const needy = (more) => flow([procedure("needy", [end("over", "done")], { kind: "task", ...more })], CATALOGUE);
  for (const [more, kind] of [[{ requires: ["isolated"] }, "task"], [{ status: "withdrawn" }, "withdrawn"], [{ start: null }, "withdrawn"]]) {
    const run = new Run(needy(more));
    assert.equal(run.state.screen.name, "refused");
    assert.equal(run.state.screen.missing[0].kind, kind);
    assert.equal(run.send({ type: "restart" }).next().state.screen.name, "refused");
  }
  assert.equal(new Run(needy({})).at, "ending over");
});
