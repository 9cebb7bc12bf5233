// What may still be wrong after the answers so far: the arithmetic against values worked out by hand, with the sources named.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { bag, ruledOutByWord, sharesLeft } from "../../themes/bench/script/shares.js";
import { MOST_LINES, summaryText, WIDEST } from "../../themes/bench/parts/follower/summary.js";
import { useWords } from "../../themes/bench/parts/follower/words.js";
import { act, answer, ask, end, flow, procedure, unsure } from "./flows.mjs";
import { Run } from "./run.mjs";
import { createRequire } from "node:module";

const { parse } = createRequire(new URL("../outside/", import.meta.url))("yaml");
useWords(parse(readFileSync(new URL("../../themes/bench/words/en.yaml", import.meta.url), "utf8")));

const close = (found, expected, within = 1e-12) => assert.ok(Math.abs(found - expected) <= within, `${found} is not ${expected}`);
const shareOf = (left, id) => left.find((one) => one.id === id)?.share ?? 0;

/** Two questions, then a cure of the first fault and its check. */
function job(weights, chances) {
  const known = Object.entries(weights).map(([id, weight]) => ({ id, name: `Fault ${id}`, weight: String(weight) }));
  const [first, second] = chances;
  const steps = [
    ask("one", [answer("Yes", "two"), answer("No", "two"), unsure("two")]),
    ask("two", [answer("Yes", "mend"), answer("No", "mend"), unsure("one")]),
    act("mend", "check", { cures: ["a"] }),
    ask("check", [answer("Clean", "close", { fixed: true }), answer("Not yet", "stop"), unsure("stop")]),
    end("close", "fixed"), end("stop", "handed-over"),
  ];
  const gives = { one: [first, "rest", null], two: [second, "rest", null], check: [{ fixed: "1" }, { "not-fixed": "1" }, null] };
  return { ...flow([procedure("job", steps)]), faults: { known, gives, bring: [{ name: "Ruler", cures: [] }, { name: "Roller", cures: ["a"] }, { name: "Belt", cures: ["b", "c"] }] } };
}

test("before the first answer the shares are the weights", () => {
  const { flow: of, state } = new Run(job({ a: 5, b: 3, c: 2 }, [{ a: "1" }, { b: "1" }]));
  const left = sharesLeft(of, state);
  assert.deepEqual(left.map(({ id, share }) => [id, share]), [["a", 0.5], ["b", 0.3], ["c", 0.2]]);
});

// Priors .5 .3 .2 and two answers with chances .1 .9 1 and .2 .9 1: .5*.1*.2 = .010, .3*.9*.9 = .243, .2*1*1 = .200, together .453.
// Worked by hand, and by a general-purpose library for Bayesian networks: .022075 .536424 .441501.
test("two answers with chances: Bayes' rule by hand", () => {
  const of = job({ a: 0.5, b: 0.3, c: 0.2 }, [{ a: "0.1", b: "0.9", c: "1" }, { a: "0.2", b: "0.9", c: "1" }]);
  const { state } = new Run(of).answer("Yes").answer("Yes");
  const left = sharesLeft(of, state);
  for (const [id, share, exact] of [["b", 0.536424, 0.243 / 0.453], ["c", 0.441501, 0.2 / 0.453], ["a", 0.022075, 0.01 / 0.453]]) {
    close(shareOf(left, id), exact);
    close(shareOf(left, id), share, 5e-7);
  }
  assert.deepEqual(left.map((one) => one.id), ["b", "c", "a"]);
});

test("`rest` is every fault that no other answer names, and nothing of those it does name", () => {
  const of = job({ a: 5, b: 3, c: 2 }, [{ a: "0.4" }, { b: "1" }]);
  close(shareOf(sharesLeft(of, new Run(of).answer("Yes").state), "a"), 1);
  const left = sharesLeft(of, new Run(of).answer("No").state);
  assert.deepEqual(left.map(({ id, share }) => [id, share]), [["b", 0.6], ["c", 0.4]]);
});

test("who cannot tell has said nothing; a question answered again says once what it says", () => {
  const of = job({ a: 5, b: 3, c: 2 }, [{ a: "0.5", b: "0.5", c: "1" }, { c: "1" }]);
  const unsaid = new Run(of).answer("unsure").answer("unsure");
  close(shareOf(sharesLeft(of, unsaid.state), "a"), 0.5);
  const again = new Run(of).answer("Yes").answer("unsure").answer("Yes");
  // 5*.5, 3*.5, 2*1 of 6; squared chances would give 5*.25, 3*.25, 2 of 4.
  close(shareOf(sharesLeft(of, again.state), "a"), 2.5 / 6);
});

test("a check that is not passed rules out what was cured", () => {
  const of = job({ a: 5, b: 3, c: 2 }, [{}, {}]);
  const run = new Run(of).answer("unsure").answer("No").next();
  assert.equal(shareOf(sharesLeft(of, run.state), "a") > 0, true, "not checked yet");
  const left = sharesLeft(of, run.answer("Not yet").state);
  assert.deepEqual(left.map(({ id, share }) => [id, share]), [["b", 0.6], ["c", 0.4]]);
  assert.equal(/May still be wrong/.test(summaryText(of, new Run(of).answer("unsure").answer("No").next().answer("Clean").state)), false);
});

test("the bag: what only cures faults that are ruled out stays at home, the rest with its chance", () => {
  const of = job({ a: 5, b: 3, c: 2 }, [{ a: "1" }, {}]);
  const share = (run) => Object.fromEntries(bag(of, sharesLeft(of, run.state)).map((one) => [one.name, one.share]));
  assert.deepEqual(share(new Run(of)), { Ruler: null, Roller: 0.5, Belt: 0.5 });
  assert.deepEqual(share(new Run(of).answer("No")), { Ruler: null, Belt: 1 });
});

test("what only a told answer speaks against is named, and comes back when it was not so", () => {
  const of = job({ a: 5, b: 3, c: 2 }, [{ a: "1" }, { b: "1" }]);
  const told = new Run(of, { caller: true }).answer("No");
  const left = sharesLeft(of, told.state);
  assert.deepEqual(ruledOutByWord(of, told.state, left).map((one) => one.id), ["a"]);
  assert.match(summaryText(of, told.state), /Ruled out only by what was told: Fault a\n/);
  const seen = new Run(of).answer("No");
  assert.deepEqual(ruledOutByWord(of, seen.state, sharesLeft(of, seen.state)), []);
});

test("answers that fit no fault say so", () => {
  const of = job({ a: 1, b: 1 }, [{ a: "1" }, { b: "1" }]);
  const run = new Run(of).answer("Yes").answer("Yes");
  assert.deepEqual(sharesLeft(of, run.state), []);
  assert.match(summaryText(of, run.state), /The answers fit no fault that this procedure knows\.\n/);
});

test("the ticket tells faults with shares and what to bring, in 20 lines of 100 letters at most, though there are thirty faults", () => {
  const of = job(Object.fromEntries(Array.from({ length: 30 }, (_, n) => [n === 0 ? "a" : `f${n}`, 40 - n])), [{ a: "1" }, {}]);
  of.faults.known.forEach((one) => { one.name = `A fault whose name is rather long, number ${one.id}`; });
  of.faults.bring = Array.from({ length: 30 }, (_, n) => ({ name: `A rather long tool ${n}`, cures: n % 2 ? [`f${n}`] : [] }));
  const run = new Run(of, { caller: true });
  for (let n = 0; n < 40; n++) run.send({ type: "note", text: "A long remark ".repeat(20) }).answer(n % 2 ? "unsure" : "No");
  const lines = summaryText(of, run.state).trimEnd().split("\n");
  assert.ok(lines.length <= MOST_LINES, `${lines.length} lines`);
  for (const line of lines) assert.ok([...line].length <= WIDEST, line);
  assert.match(lines.join("\n"), /May still be wrong: A fault[^]*and \d+ more\n[^]*To bring: A rather long tool[^]*and \d+ more/);
  const short = job({ a: 5, b: 3, c: 2 }, [{ a: "1" }, {}]);
  assert.match(summaryText(short, new Run(short).answer("No").state), /\nMay still be wrong: Fault b 60 %; Fault c 40 %\nTo bring: Ruler; Belt 100 %\n/);
});
