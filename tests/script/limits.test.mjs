// Both sides of every limit, and what going back and breaks do.
import assert from "node:assert/strict";
import { test } from "node:test";
import { act, ask, answer, band, call, CATALOGUE, end, exposed, flow, hazard, condition, measure, model, nastyFlow, procedure, unsure, byModel, way } from "./flows.mjs";
import { Run } from "./run.mjs";

/** A step that shows the toner caution, then so many plain steps, then one that is exposed to toner without a caution of its own. */
function stepsLater(count) {
  const plain = Array.from({ length: count - 1 }, (_, index) => act(`plain-${index}`, index === count - 2 ? "exposed" : `plain-${index + 1}`));
  const first = act("show", count === 1 ? "exposed" : "plain-0", { cautions: ["toner"] });
  return flow([procedure("steps", [first, ...plain, act("exposed", "done", { exposes: exposed("toner") }), end("done", "no-fault")])], CATALOGUE);
}

for (const [steps, expected] of [[6, "step exposed"], [7, "caution toner"]]) {
  test(`${steps} steps after the caution: ${expected}`, () => {
    const run = new Run(stepsLater(steps)).acknowledge();
    for (let done = 0; done < steps; done++) run.next();
    assert.equal(run.at, expected);
  });
}

for (const [seconds, expected] of [[900, "step exposed"], [901, "caution toner"], [960, "caution toner"]]) {
  test(`${seconds} seconds after the caution: ${expected}`, () => {
    const run = new Run(stepsLater(1)).acknowledge().work(seconds - 1).next(1000);
    assert.equal(run.at, expected);
  });
}

/** Isolated by an answer, then a wait, then the fuser. */
function waitFlow(wait) {
  const steps = [
    ask("tried", [answer("Dead", "cool", { sets: ["isolated"] }), unsure("stop")]),
    act("cool", "fuser", wait),
    act("fuser", "stop", { exposes: exposed("hot-fuser"), cautions: ["hot-fuser"] }),
    end("stop", "handed-over"),
  ];
  return flow([procedure("wait", steps)], CATALOGUE);
}

/** Confirms everything after a break. */
function confirmAll(run, person = "skilled") {
  const conditions = Object.fromEntries(run.state.facts.holds.map((id) => [id, true]));
  return run.send({ type: "confirm", person, alone: true, conditions });
}

for (const [minutes, expected] of [[29, "hand-over fuser"], [30, "caution hot-fuser"]]) {
  test(`a wait of ${minutes} minutes: ${expected}`, () => {
    const run = new Run(waitFlow({ wait: minutes * 60 }), { person: "skilled" }).answer("Dead").send({ type: "begin-wait" });
    for (let second = 0; second < minutes * 60 - 1; second += 1) run.tick(1000);
    assert.equal(run.at, "wait cool");
    run.send({ type: "next" }, 500);
    assert.equal(run.at, "resume cool", "half an hour without anybody is a break");
    confirmAll(run, "skilled");
    // What the questions took counts as waiting as well; the test of 29 minutes therefore stands on the shortest of times.
    assert.equal(run.state.wait.counted >= minutes * 60 * 1000, true);
    run.next(400);
    assert.equal(run.at, expected);
  });
}

test("a wait is not over a millisecond early, and there is no skip", () => {
  const run = new Run(waitFlow({ waitFor: "cooled" }), { person: "skilled" }).answer("Dead").send({ type: "begin-wait" });
  for (let minute = 0; minute < 29; minute++) run.send({ type: "here" }, 60000);
  run.send({ type: "here" }, 59999);
  assert.equal(run.state.wait.counted, 1799999);
  for (const event of ["next", "begin-wait", "answer", "reading"]) assert.equal(run.send({ type: event }, 0).at, "wait cool");
  assert.equal(run.send({ type: "next" }, 1).at, "caution hot-fuser");
});

test("a clock moved forward does not end a wait, and the caution counts as old", () => {
  const run = new Run(waitFlow({ waitFor: "cooled" }), { person: "skilled" }).answer("Dead").send({ type: "begin-wait" });
  run.clock = { ...run.clock, wall: run.clock.wall + 3600 * 1000 };
  run.send({ type: "next" });
  assert.equal(run.at, "resume cool");
  confirmAll(run).next();
  assert.equal(run.at, "wait cool");
  assert.ok(run.state.wait.counted < 10000);
  assert.ok(run.state.wait.doubt);
});

test("a clock set back does not end a wait and is noticed", () => {
  const run = new Run(waitFlow({ waitFor: "cooled" }), { person: "skilled" }).answer("Dead").send({ type: "begin-wait" });
  run.clock = { ...run.clock, wall: run.clock.wall - 3600 * 1000 };
  run.tick(1000);
  assert.ok(run.state.wait.doubt);
  assert.equal(run.state.wait.counted, 0);
});

test("a wait survives being closed: what was counted stays, the time away is not counted", () => {
  const run = new Run(waitFlow({ waitFor: "cooled" }), { person: "skilled" }).answer("Dead").send({ type: "begin-wait" });
  for (let minute = 0; minute < 20; minute++) run.send({ type: "here" }, 60000);
  run.state = JSON.parse(JSON.stringify(run.state));
  run.clock = { wall: run.clock.wall + 86400000, running: 5 };
  run.send({ type: "reopen" }, 0);
  assert.equal(run.at, "resume cool");
  confirmAll(run);
  assert.equal(run.at, "wait cool");
  assert.ok(run.state.wait.counted >= 1200000 && run.state.wait.counted < 1210000);
});

test("a wait begins again when nobody confirms that the plug stayed out", () => {
  const run = new Run(waitFlow({ waitFor: "cooled" }), { person: "skilled" }).answer("Dead").send({ type: "begin-wait" });
  for (let minute = 0; minute < 20; minute++) run.send({ type: "here" }, 60000);
  run.send({ type: "take-over" }).send({ type: "confirm", person: "skilled", alone: true, conditions: { isolated: false } });
  assert.equal(run.at, "hand-over cool");
  assert.deepEqual(run.state.screen.missing, [{ kind: "condition", id: "isolated" }]);
});

/** A reading that may show that the fuser is cool. */
function warmFlow() {
  const bands = [band({ inside: true, value: "48", figure: null }, "fuser", { sets: ["cooled"] }), band(null, "fuser"), unsure("stop")];
  const steps = [
    ask("tried", [answer("Dead", "warm", { sets: ["isolated"] }), unsure("stop")]),
    measure("warm", "°C", "0", "250", bands),
    act("fuser", "stop", { exposes: exposed("hot-fuser"), cautions: ["hot-fuser"] }),
    end("stop", "handed-over"),
  ];
  return flow([procedure("warm", steps)], CATALOGUE);
}

for (const [reading, expected] of [["48", "caution hot-fuser"], ["48,0", "caution hot-fuser"], ["48.1", "hand-over fuser"], ["48,0000001", "hand-over fuser"]]) {
  test(`a reading of ${reading} °C: ${expected}`, () => {
    const run = new Run(warmFlow(), { person: "skilled" }).answer("Dead").read(reading);
    assert.equal(run.at, expected);
  });
}

test("a reading outside the range ends the condition", () => {
  const run = new Run(warmFlow(), { person: "skilled" }).answer("Dead").read("40");
  assert.ok(run.state.facts.holds.includes("cooled"));
  run.back().read("60");
  assert.ok(!run.state.facts.holds.includes("cooled"));
});

test("a condition cannot be set without what comes before it", () => {
  const lone = warmFlow();
  lone.procedures.warm.steps.tried.ways[0].sets = [];
  const run = new Run(lone, { person: "skilled" }).answer("Dead").read("20");
  assert.equal(run.at, "hand-over fuser");
});

test("back over switching on shows the cautions again and names what stays done", () => {
  const steps = [
    act("wipe", "switch-on", { exposes: exposed("toner"), cautions: [] }),
    act("switch-on", "stop", { sets: ["mains-on"] }),
    end("stop", "no-fault"),
  ];
  const run = new Run(flow([procedure("on", steps)], CATALOGUE)).acknowledge();
  assert.equal(run.at, "step wipe");
  run.next().next();
  assert.equal(run.at, "ending stop");
  run.back();
  assert.equal(run.at, "step switch-on");
  assert.deepEqual(run.state.notice.deeds, [{ procedure: "on", step: "switch-on" }]);
  run.back();
  assert.equal(run.at, "caution toner", "it was fresh until the mains came on");
  assert.ok(!run.state.facts.holds.includes("mains-on"), "it did not hold then");
  assert.ok(run.state.facts.mayHold.includes("mains-on"));
});

test("a condition holds after going back only if it held then and holds now", () => {
  const steps = [
    ask("tried", [answer("Dead", "fuser", { sets: ["isolated"] }), unsure("stop")]),
    act("fuser", "on", { exposes: exposed("high-voltage"), cautions: ["high-voltage"] }),
    act("on", "stop", { sets: ["mains-on"] }),
    end("stop", "no-fault"),
  ];
  const run = new Run(flow([procedure("held", steps)], CATALOGUE), { person: "skilled" }).answer("Dead").acknowledge().next().next();
  assert.equal(run.at, "ending stop");
  run.back().back();
  assert.equal(run.at, "hand-over fuser");
  assert.deepEqual(run.state.screen.missing, [{ kind: "condition", id: "isolated" }]);
  assert.equal(run.back().at, "step tried");
});

for (const [seconds, expected] of [[900, "step b"], [901, "resume a"]]) {
  test(`${seconds} seconds without anybody: ${expected}`, () => {
    const run = new Run(flow([procedure("gap", [act("a", "b"), act("b", "stop"), end("stop", "no-fault")])], CATALOGUE));
    run.next(seconds * 1000);
    assert.equal(run.at, expected);
  });
}

test("a break asks by name, voids every caution and lets go what nobody confirms", () => {
  const run = new Run(nastyFlow(), { person: "skilled" }).acknowledgeAll().answer("Yes").answer("Technician").acknowledgeAll().next().answer("Dead").next();
  assert.equal(run.at, "step cool-way");
  assert.deepEqual(run.state.facts.holds, ["isolated"]);
  run.send({ type: "reopen" });
  run.send({ type: "confirm", person: "skilled", alone: true, conditions: {} });
  assert.equal(run.at, "resume cool-way");
  assert.deepEqual(run.state.refusal.missing, ["isolated"]);
  run.send({ type: "confirm", person: "skilled", alone: true, conditions: { isolated: false } });
  assert.deepEqual(run.state.facts.holds, []);
  assert.deepEqual(run.state.facts.ages, {});
  run.answer("Neither");
  assert.equal(run.at, "hand-over fuser");
});

test("somebody else on the machine keeps it stopped", () => {
  const run = new Run(nastyFlow()).acknowledgeAll().send({ type: "take-over" });
  run.send({ type: "confirm", person: "skilled", raised: "another", alone: false, conditions: {} });
  assert.equal(run.at, "resume look");
  assert.equal(run.state.refusal.reason, "not-alone");
});

test("two taps within 300 ms answer one question", () => {
  for (const [gap, expected] of [[50, "step b"], [299, "step b"], [300, "step c"], [400, "step c"]]) {
    const run = new Run(flow([procedure("taps", [act("a", "b"), act("b", "c"), act("c", "stop"), end("stop", "no-fault")])], CATALOGUE));
    run.next().next(gap);
    assert.equal(run.at, expected, `${gap} ms`);
  }
});

test("at-most is counted, and `otherwise` is taken when it is used up", () => {
  const again = ask("again", [answer("Once more", "again"), unsure("stop"), way("otherwise", "stop")], { atMost: 2 });
  const run = new Run(flow([procedure("often", [again, end("stop", "handed-over")])], CATALOGUE)).answer("Once more");
  assert.equal(run.at, "step again");
  assert.equal(run.answer("Once more").at, "ending stop");
});

test("one caution after the other, most severe first, each acknowledged by name", () => {
  const run = new Run(nastyFlow(), { person: "skilled" });
  run.acknowledgeAll().answer("Yes").answer("Technician").acknowledgeAll().next().answer("Dead").next().answer("Measure").read("20");
  assert.equal(run.at, "caution high-voltage");
  assert.equal(run.send({ type: "acknowledge", hazard: "hot-fuser" }).at, "caution high-voltage");
  assert.equal(run.acknowledge().at, "caution hot-fuser");
  assert.equal(run.acknowledge().at, "step fuser");
});

test("a person below what a step asks for never sees it", () => {
  const run = new Run(nastyFlow()).acknowledgeAll().answer("Yes").answer("Technician");
  assert.notEqual(run.at, "hand-over safe");
  run.send({ type: "take-over" }).send({ type: "confirm", person: "ordinary", alone: true, conditions: {} }).acknowledgeAll().next().answer("Dead").next().answer("Measure").read("20");
  assert.equal(run.at, "hand-over fuser");
  assert.ok(run.state.screen.missing.some((one) => one.kind === "person"));
});

test("an unknown model goes on only where all models agree", () => {
  const split = (desk, floor) => flow([procedure("models", [byModel("split", { desk, others: floor }), end("one", "no-fault"), end("two", "no-fault")], { models: ["desk", "floor"] })], { ...CATALOGUE, models: [model("desk"), model("floor")] });
  assert.equal(new Run(split("one", "one")).at, "ending one");
  assert.equal(new Run(split("one", "two")).at, "hand-over split");
  assert.equal(new Run(split("one", "two"), { model: "floor" }).at, "ending two");
});

test("a condition that takes a figure waits the longest of the models it may be", () => {
  const lone = waitFlow({ waitFor: "cooled" });
  lone.models = [model("desk"), model("floor")];
  lone.procedures.wait.models = ["desk", "floor"];
  lone.conditions = lone.conditions.map((one) => (one.id === "cooled" ? { ...one, takes: { seconds: null, byModel: { desk: 60, floor: 90 } } } : one));
  assert.equal(new Run(lone, { person: "skilled" }).answer("Dead").send({ type: "begin-wait" }).state.wait.needed, 90000);
  assert.equal(new Run(lone, { person: "skilled", model: "desk" }).answer("Dead").send({ type: "begin-wait" }).state.wait.needed, 60000);
  delete lone.conditions[2].takes.byModel.desk;
  assert.equal(new Run(lone, { person: "skilled", model: "desk" }).answer("Dead").at, "hand-over cool", "no figure, no wait that could end");
});

test("nothing begins before every question is answered, and not with somebody else on the machine", () => {
  const run = new Run(nastyFlow());
  for (const [event, expected] of [[{}, "start"], [{ model: "desk", person: "skilled", alone: true }, "start"], [{ model: "desk", person: "boss", alone: true, caller: false }, "start"], [{ model: "desk", person: "skilled", alone: false, caller: false }, "refused"]]) {
    run.send({ type: "restart" }).send({ type: "start", ...event });
    assert.equal(run.state.screen.name, expected);
  }
});

test("a run of another edition is not continued", () => {
  const old = new Run(nastyFlow()).acknowledgeAll();
  old.flow = { ...old.flow, edition: "e2" };
  old.send({ type: "reopen" });
  assert.equal(old.state.screen.name, "start");
  assert.equal(old.state.notice.name, "older-edition");
});

test("a waiver counts until its day", () => {
  const steps = [act("lift", "stop", { cautions: ["high-voltage"], exposes: [{ hazard: "high-voltage", waived: { requires: "2026-01-15", least: null } }] }), end("stop", "no-fault")];
  const waived = flow([procedure("waived", steps)], CATALOGUE);
  assert.equal(new Run(waived, { person: "skilled" }).at, "caution high-voltage");
  const after = structuredClone(waived);
  after.procedures.waived.steps.lift.exposes[0].waived.requires = "2026-01-14";
  assert.equal(new Run(after, { person: "skilled" }).at, "hand-over lift");
});

test("what is left behind, and a cure nobody checked, are said at the end", () => {
  const steps = [act("hold", "stop", { sets: ["interlock-held"], cures: ["x"] }), end("stop", "fixed")];
  const run = new Run(flow([procedure("left", steps)], CATALOGUE)).next();
  assert.deepEqual(run.state.screen.left, ["interlock-held"]);
  assert.deepEqual(run.state.screen.missing, [{ kind: "check", id: "fixed" }]);
});
