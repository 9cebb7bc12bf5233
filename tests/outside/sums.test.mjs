// The bench sums against what this project did not write: a general mathematics library reads the same formulas and solves the differential equations behind them,
// a statistics library, a library of moist air, the browser's own sizes of paper, and the contrast of an accessibility library.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { test } from "node:test";
import { poissonLimits } from "../../themes/bench/script/trade/count.js";
import { contrast } from "../../themes/bench/script/trade/colour.js";
import { launch } from "../browser/site.mjs";
import { answersOf } from "../../themes/bench/script/trade/sum.js";

const require = createRequire(import.meta.url);
const { create, all } = require("mathjs");
const { jStat } = require("jstat");
const psychrolib = require("psychrolib");

const { sums, sizes } = JSON.parse(readFileSync(new URL("../script/fixtures/sums.json", import.meta.url), "utf8"));
const math = create(all);
// The library's `log` is our `ln`; its `round` takes halves away from nought, ours up.
math.import({ ln: (x) => Math.log(x), round: (x) => Math.floor(x + 0.5) }, { override: true });

const near = (found, expected, within, what) => assert.ok(Math.abs(found - expected) <= within, `${what}: ${found}, expected ${expected}`);

/** A result of a sum with some readings changed. */
function result(id, name, changes = {}) {
  const { sum } = sums.find(({ sum }) => sum.id === id);
  const values = { ...Object.fromEntries(sum.inputs.map((input) => [input.id, input.value])), ...changes };
  const answer = answersOf(sum, values)[sum.results.findIndex((outcome) => outcome.id === name)];
  assert.ok("value" in answer, `${id} ${name}: ${JSON.stringify(answer)}`);
  return answer.value;
}

test("a general mathematics library reads every formula and comes to the same numbers (mathjs)", () => {
  let compared = 0;
  for (const { sum, texts, cases } of sums.filter(({ sum }) => sum.work === null)) {
    const formulas = texts.map((text) => math.compile(text));
    for (const { values, answers } of cases) {
      const scope = { ...values };
      for (const [place, answer] of answers.entries()) {
        if (!("value" in answer)) continue;
        const found = formulas[place].evaluate(scope);
        near(found, answer.value, Math.max(1e-12, Math.abs(answer.value) * 1e-9), `${sum.id} ${sum.results[place].id} at ${JSON.stringify(values)}`);
        scope[sum.results[place].id] = found;
        compared += 1;
      }
    }
  }
  assert.ok(compared > 500, `${compared} results`);
});

/** The value at `end` of dy/dt = slope(t, y), by the library's Runge-Kutta steps. */
function solved(slope, start, from, end) {
  const { y } = math.solveODE((t, [value]) => [slope(t, value)], [from, end], [start], { tol: 1e-9, maxStep: (end - from) / 50 });
  return y.at(-1)[0];
}

test("cooling, discharge, sensor and warming follow the differential equations behind them (mathjs, Runge-Kutta)", () => {
  for (const [hot, room, safe, tau] of [[190, 35, 48, 12], [190, 25, 48, 12], [230, 10, 60, 30], [150, 20, 43, 3]]) {
    const wait = result("cooling-time", "wait", { hot, room, safe, tau });
    near(solved((_, degrees) => -(degrees - room) / tau, hot, 0, wait), safe, 0.01, `cooling from ${hot}`);
  }
  const tau = result("cooling-constant", "tau");
  near(solved((_, degrees) => -(degrees - 25) / tau, 190, 0, 10), 95, 0.01, "the constant from two readings");
  for (const [volts, farads, ohms, limit] of [[325, 220, 470, 60], [325, 220, 10000, 60], [24, 1000, 10, 5]]) {
    const wait = result("stored-charge", "wait", { volts, farads, ohms, limit });
    near(solved((_, now) => -now / (farads * 1e-6 * ohms * 1e3), volts, 0, wait), limit, limit * 1e-3, `discharge from ${volts} V`);
  }
  // d(ln R)/dT = -B / T²: what the B value is.
  for (const celsius of [5, 15, 20, 30, 180]) {
    const kelvin = celsius + 273.15;
    const [from, to, sign] = kelvin > 298.15 ? [298.15, kelvin, 1] : [-298.15, -kelvin, -1];
    const logarithm = solved((t) => (sign * -4000) / t ** 2, Math.log(100), from, to);
    near(Math.log(result("sensor", "ohms", { celsius })), logarithm, 1e-3, `sensor at ${celsius} °C`);
  }
  const wait = result("dew-point", "wait");
  near(solved((_, degrees) => (23 - degrees) / 60, 8, 0, wait), result("dew-point", "dew") + 2, 0.01, "warming above the dew point");
});

test("the dew point is that of a library of moist air, within 0.2 °C (psychrolib: ASHRAE Handbook, Fundamentals)", () => {
  psychrolib.SetUnitSystem(psychrolib.SI);
  for (const room of [0.5, 5, 15, 23, 35, 45]) {
    for (const humidity of [20, 40, 55, 80, 95, 99]) {
      const dew = psychrolib.GetTDewPointFromRelHum(room, humidity / 100);
      // Below freezing the handbook means dew on ice, the formula dew on water.
      if (dew > 0.5) near(result("dew-point", "dew", { room, humidity, start: -20 > room ? room : -20 }), dew, 0.2, `${room} °C, ${humidity} %`);
    }
  }
});

test("limits of counts are those of a statistics library (jstat)", () => {
  for (const count of [0, 1, 2, 4, 10, 57, 200, 500]) {
    const [low, high] = poissonLimits(count);
    near(high, jStat.chisquare.inv(0.975, 2 * (count + 1)) / 2, 1e-5 * (1 + count), `upper limit of ${count}`);
    if (count > 0) near(low, jStat.chisquare.inv(0.025, 2 * count) / 2, 1e-5 * (1 + count), `lower limit of ${count}`);
  }
  // Wilson's interval is where the test of a share just holds: (share - p)² n = z² p (1 - p).
  const z = jStat.normal.inv(0.975, 0, 1);
  for (const [good, visits] of [[42, 50], [4, 5], [1, 300], [0, 20], [20, 20]]) {
    for (const side of ["low", "high"]) {
      const p = result("first-time-fix", side, { good, visits }) / 100;
      near((good / visits - p) ** 2 * visits, z ** 2 * p * (1 - p), 1e-5, `${side} of ${good} in ${visits}`);
    }
  }
  // So many clean sheets leave the fault a chance of at most 5 %, one fewer more.
  for (const every of [2, 50, 200, 1000]) {
    const sheets = result("clean-sheets", "sheets", { every, sure: 95 });
    assert.ok(jStat.binomial.pdf(0, sheets, 1 / every) <= 0.05 && jStat.binomial.pdf(0, sheets - 1, 1 / every) > 0.05, `${sheets} sheets for 1 in ${every}`);
  }
});

test("sizes of sheets are those the browser prints on (CSS Paged Media), contrast is that of axe-core", async () => {
  const browser = await launch();
  const folder = mkdtempSync(join(tmpdir(), "sizes-"));
  try {
    const page = await browser.newPage();
    const names = { A3: "A3", A4: "A4", A5: "A5", B4: "B4", B5: "B5", "JIS-B4": "B4 of the Japanese standard", "JIS-B5": "B5 of the Japanese standard", letter: "Letter", legal: "Legal", ledger: "Ledger" };
    for (const [css, ours] of Object.entries(names)) {
      await page.setContent(`<style>@page { size: ${css}; margin: 0 }</style><p>x`);
      const pdf = join(folder, `${css}.pdf`);
      await page.pdf({ path: pdf, preferCSSPageSize: true });
      const points = /Page size:\s+([\d.]+) x ([\d.]+)/.exec(execFileSync("pdfinfo", [pdf], { encoding: "utf8" })).slice(1).map((one) => (Number(one) / 72) * 25.4);
      const [, width, length] = sizes.find(([name]) => name === ours);
      // A sheet of a PDF is rounded to whole dots of the browser.
      near(Math.min(...points), width, 0.4, `width of ${ours}`);
      near(Math.max(...points), length, 0.4, `length of ${ours}`);
    }
    await page.setContent("<title>x</title><p>x");
    await page.evaluate(readFileSync(require.resolve("axe-core/axe.min.js"), "utf8"));
    const hex = (colour) => `#${colour.toString(16).padStart(6, "0")}`;
    const pairs = [[0, 0xf9a900], [0xffffff, 0xf9a900], [0xb00020, 0xffffff], [0x767676, 0xffffff], [0x777777, 0xffffff], [0x6d2a63, 0xfdfcf8], [0x123456, 0xfedcba], [0x0b0b0b, 0x0a0a0a]];
    const theirs = await page.evaluate((all) => all.map(([front, ground]) => {
      const colour = (text) => { const made = new axe.commons.color.Color(); made.parseString(text); return made; };
      return axe.commons.color.getContrast(colour(ground), colour(front));
    }), pairs.map((pair) => pair.map(hex)));
    for (const [place, [front, ground]] of pairs.entries()) near(contrast(front, ground), theirs[place], 1e-2, `${hex(front)} on ${hex(ground)}`);
  } finally {
    await browser.close();
    rmSync(folder, { recursive: true });
  }
});
