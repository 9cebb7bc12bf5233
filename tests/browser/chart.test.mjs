// The flowchart of the published demo in a real browser, opened from the folder: by mouse, by touch, by keyboard, without script, on paper.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { close, FEW, flowOf, hazardsOf, launch, openPage, SITE } from "./site.mjs";

const PATH = "procedures/repeating-marks.html";
const FLOW = flowOf(PATH);
const OWN = FLOW.procedures[FLOW.procedure];
const IDS = Object.keys(OWN.steps);

let browser;
before(async () => { browser = await launch(); });
after(() => browser?.close());

/** The page with its flowchart in sight. */
async function chartPage(options = {}) {
  const page = await openPage(browser, SITE.href, PATH, { viewport: { width: 1000, height: 800 }, ...options });
  await page.locator("#chart--whole").evaluate((region) => region.scrollIntoView());
  if (options.javaScriptEnabled !== false) await page.locator("#flowchart.is-alive").waitFor();
  await page.locator("#chart--whole").evaluate((region) => region.scrollIntoView());
  return page;
}

/** Where the window stands: its scroll, and the size of the drawing. */
const where = (page) => page.locator("#chart--whole").evaluate((region) => ({ left: region.scrollLeft, top: region.scrollTop, width: Math.round(region.querySelector("svg").getBoundingClientRect().width) }));
const button = (page, name) => page.locator(".chart-tools").getByRole("button", { name, exact: true });
const settled = (page) => page.waitForTimeout(260);
/** The point of the drawing under a point of the screen. */
const under = (page, x, y) => page.evaluate(([left, top]) => {
  const svg = document.querySelector("#chart--whole > svg");
  const box = svg.getBoundingClientRect();
  return { x: (left - box.left) / box.width * svg.viewBox.baseVal.width, y: (top - box.top) / box.height * svg.viewBox.baseVal.height };
}, [x, y]);
const near = (a, b, by = 4) => assert.ok(Math.hypot(a.x - b.x, a.y - b.y) < by, `${JSON.stringify(a)} ${JSON.stringify(b)}`);

test("a mouse drags the drawing, the wheel zooms about the pointer, and a click shows the step with its cautions first", async () => {
  const page = await chartPage();
  const box = await page.locator("#chart--whole").boundingBox();
  const [x, y] = [box.x + box.width / 2, box.y + 400];
  const start = await where(page);
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x - 90, y - 70, { steps: 4 });
  await page.mouse.up();
  const dragged = await where(page);
  assert.deepEqual([dragged.left - start.left, dragged.top - start.top], [90, 70]);
  assert.ok(await page.locator(".chart-step").isHidden(), "the end of a drag is no click");

  await page.mouse.move(x, y);
  const before = await under(page, x, y);
  await page.keyboard.down("Control");
  for (let turn = 0; turn < 3; turn++) await page.mouse.wheel(0, -60);
  await page.keyboard.up("Control");
  await settled(page);
  assert.ok((await where(page)).width > start.width * 1.5);
  near(await under(page, x, y), before);
  await button(page, "Full size").click();
  assert.equal((await where(page)).width, start.width);

  // As wide as the window, but never below half its size, where its words are lost.
  await button(page, "Width").click();
  const room = await page.locator("#chart--whole").evaluate((region) => region.clientWidth - 26);
  assert.ok(Math.abs((await where(page)).width - Math.min(start.width, Math.max(start.width / 2, room))) < 1);
  await button(page, "Full size").click();

  const exposing = Object.values(OWN.steps).find((step) => step.cautions.length > 0);
  await page.locator(`#chart-${exposing.id} a`).click();
  const sheet = page.locator(".chart-step");
  assert.ok(await sheet.isVisible());
  const order = await sheet.evaluate((element) => [...element.querySelectorAll(".caution, .step__sentence, .step__words")].map((one) => one.classList[0]));
  assert.equal(order[0], "caution", String(order));
  assert.ok(order.includes("step__sentence"));
  assert.equal(await page.evaluate(() => document.activeElement.closest(".chart-step") !== null), true);
  await sheet.locator("a[href^='#step-']").first().click();
  assert.ok(!(await sheet.getAttribute("aria-label")).endsWith(exposing.text), "a way on shows the next step");
  await sheet.getByRole("button").click();
  assert.ok(await sheet.isHidden());
  assert.equal(await page.evaluate(() => document.activeElement.closest(".chart__node") !== null), true);
  assert.equal(await page.evaluate(() => location.hash), "");
  await close(page);
});

test("whatever a drag or a pinch does, single clicks do", async () => {
  const page = await chartPage();
  // It opens with the start symbol in the middle; from the left edge there is room to go right and back.
  await page.locator("#chart--whole").evaluate((region) => region.scrollTo(0, 0));
  const start = await where(page);
  await button(page, "Down").click();
  await button(page, "To the right").click();
  const moved = await where(page);
  assert.ok(moved.top > start.top + 100 && moved.left > start.left + 100, JSON.stringify([start, moved]));
  await button(page, "Up").click();
  await button(page, "To the left").click();
  assert.deepEqual(await where(page), start);
  await button(page, "Bigger").click();
  assert.equal((await where(page)).width, Math.round(start.width * 1.25));
  await button(page, "Smaller").click();
  await button(page, "Whole").click();
  const fits = await page.locator("#chart--whole").evaluate((region) => region.scrollHeight <= region.clientHeight + 1 && region.scrollWidth <= region.clientWidth + 1);
  assert.ok(fits, "all of it is in sight");
  for (const box of await page.locator(".chart-tools button").evaluateAll((all) => all.map((one) => one.getBoundingClientRect().toJSON()))) assert.ok(box.width >= 44 && box.height >= 44, JSON.stringify(box));
  await close(page);
});

test("keys alone: a step is found, reached, shown and left; plus, minus and nought zoom", async () => {
  const page = await chartPage();
  await page.locator("#chart--find").focus();
  await page.keyboard.type("hot fuser");
  const expected = Object.values(OWN.steps).filter((step) => hazardsOf(step).includes("hot-fuser")).length;
  assert.match(await page.locator(".chart-tools__status").textContent(), new RegExp(`^1 of ${expected}: step \\d+$`));
  await page.locator("#chart--find").fill("qqq");
  assert.match(await page.locator(".chart-tools__status").textContent(), /No step/);
  await page.locator("#chart--find").fill("slide cartridge");
  await page.keyboard.press("Enter");
  const id = await page.evaluate(() => document.activeElement.closest(".chart__node").dataset.step);
  assert.match(OWN.steps[id].text, /Slide the cartridge/);
  const inSight = await page.evaluate(() => {
    const [node, region] = [document.activeElement, document.querySelector("#chart--whole")].map((one) => one.getBoundingClientRect());
    return node.left >= region.left && node.right <= region.right && node.top >= region.top && node.bottom <= region.bottom;
  });
  assert.ok(inSight);
  const { width } = await where(page);
  for (const [key, factor] of [["+", 1.25], ["-", 1], ["-", 0.8], ["0", 1]]) {
    await page.keyboard.press(key);
    assert.equal((await where(page)).width, Math.round(width * factor), key);
  }
  await page.keyboard.press("Enter");
  assert.ok(await page.locator(".chart-step").isVisible());
  await page.keyboard.press("Escape");
  assert.equal(await page.evaluate(() => document.activeElement.closest(".chart__node").dataset.step), id);
  await page.keyboard.press("Tab");
  assert.notEqual(await page.evaluate(() => document.activeElement.closest(".chart__node")?.dataset.step), undefined, "the next symbol is one Tab away");
  await close(page);
});

test("fingers: one scrolls, two zoom about their middle, a tap shows the step", async () => {
  const page = await chartPage({ hasTouch: true, viewport: { width: 390, height: 800 } });
  const devtools = await page.context().newCDPSession(page);
  const touch = (type, ...points) => devtools.send("Input.dispatchTouchEvent", { type, touchPoints: points.map(([x, y], id) => ({ x, y, id })) });
  const box = await page.locator("#chart--whole").boundingBox();
  const [x, y] = [box.x + 180, box.y + 300];
  const start = await where(page);
  const before = await under(page, x, y);
  await touch("touchStart", [x - 40, y], [x + 40, y]);
  for (const apart of [50, 60, 70, 80]) await touch("touchMove", [x - apart, y], [x + apart, y]);
  await touch("touchEnd");
  await settled(page);
  const wide = await where(page);
  assert.ok(Math.abs(wide.width / start.width - 2) < 0.1, JSON.stringify([start, wide]));
  near(await under(page, x, y), before, 8);
  await touch("touchStart", [x, y]);
  for (let moved = 1; moved < 10; moved++) await touch("touchMove", [x, y - 15 * moved]);
  await touch("touchEnd");
  await settled(page);
  assert.ok((await where(page)).top > wide.top + 80);
  await button(page, "Full size").tap();
  await page.locator(`#chart-${IDS[0]} a`).scrollIntoViewIfNeeded();
  await page.locator(`#chart-${IDS[0]} a`).tap();
  assert.ok(await page.locator(".chart-step").isVisible());
  await close(page);
});

/** Own words for what one hazard, one model and one kind of person make of the flow, from the data that the follower runs on. */
function expected(kind, id) {
  const closure = (name, seen = new Set()) => {
    if (seen.has(name) || !FLOW.procedures[name]) return seen;
    seen.add(name);
    for (const step of Object.values(FLOW.procedures[name].steps)) if (step.callee) closure(step.callee, seen);
    return seen;
  };
  const inside = (step) => [...(step.callee ? closure(step.callee) : [])].flatMap((name) => Object.values(FLOW.procedures[name].steps));
  if (kind === "hazard") return IDS.filter((step) => [OWN.steps[step], ...inside(OWN.steps[step])].some((one) => hazardsOf(one).includes(id)));
  const seen = new Set();
  const walk = (step, person) => {
    if (seen.has(`${step} ${person}`)) return;
    seen.add(`${step} ${person}`);
    const { ways } = OWN.steps[step];
    const named = ways.some((way) => way.text === id);
    for (const way of ways) {
      if (kind === "model" && way.kind === "model" && way.text !== id && !(way.text === "others" && !named)) continue;
      const brought = inside(OWN.steps[step]).flatMap((one) => one.ways).flatMap((one) => one.person ?? []);
      for (const next of way.person ? [way.person] : [person, ...brought]) walk(way.then, next);
    }
  };
  walk(OWN.start, OWN.for);
  return IDS.filter((step) => [...seen].some((one) => (kind === "person" ? one === `${step} ${id}` : one.startsWith(`${step} `))));
}

test("one hazard, one kind of person, one model, one fault by itself; no sign ever turns pale", async () => {
  const page = await chartPage();
  const lenses = JSON.parse(await page.locator("#chart--data").textContent()).lenses;
  assert.ok(["hazard", "person", "fault"].every((kind) => lenses.some((lens) => lens.kind === kind)));
  const signs = () => page.locator("#chart--whole [data-sign] .chart__sign-ground").evaluateAll((all) => all.map((one) => { const style = getComputedStyle(one); return [style.fill, style.opacity, style.stroke].join(); }).join(" "));
  const asDrawn = await signs();
  let compared = 0;
  for (const [place, lens] of lenses.entries()) {
    await page.locator("#chart--lens").selectOption(String(place));
    const on = await page.locator("#chart--whole > svg > .chart__node[data-step]:not(.is-off)").evaluateAll((all) => all.map((one) => one.dataset.step));
    assert.ok(on.length > 0 && on.length < IDS.length, lens.name);
    assert.equal(await signs(), asDrawn, lens.name);
    assert.match(await page.locator(".chart-tools__status").textContent(), new RegExp(`^${on.length} of ${IDS.length} steps`));
    if (lens.kind === "fault") continue;
    assert.deepEqual(on, expected(lens.kind, lens.id), `${lens.kind} ${lens.id}`);
    compared += 1;
  }
  assert.ok(compared > 5);
  await page.locator("#chart--lens").selectOption("");
  assert.equal(await page.locator("#chart--whole .is-off").count(), 0);
  await close(page);
});

/** Boxes that meet, and lines that no longer begin and end at their boxes or cut through one. */
function torn() {
  const svg = document.querySelector("#chart--whole > svg");
  const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
  const boxOf = (element) => { const box = element.getBoundingClientRect(); return { left: box.left / scale, right: box.right / scale, top: box.top / scale, bottom: box.bottom / scale }; };
  const origin = boxOf(svg);
  const nodes = [...svg.querySelectorAll(":scope > .chart__node")].map((node) => ({ name: node.id, ...boxOf(node.querySelector(".chart__shape")) }));
  const insets = [...svg.querySelectorAll(".chart__inset-frame")].map((frame) => ({ name: "inset", ...boxOf(frame) }));
  const all = [...nodes, ...insets];
  const wrong = [];
  all.forEach((a, place) => all.slice(place + 1).forEach((b) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom && wrong.push(`${a.name} on ${b.name}`)));
  for (const edge of svg.querySelectorAll(":scope > .chart__edge")) {
    const numbers = edge.querySelector(".chart__line").getAttribute("d").match(/-?[\d.]+/g).map(Number);
    const points = numbers.flatMap((x, at) => (at % 2 ? [] : [{ x: x + origin.left, y: numbers[at + 1] + origin.top }]));
    const at = (id, point) => { const box = nodes.find((node) => node.name === id); return point.x > box.left - 8 && point.x < box.right + 8 && point.y > box.top - 8 && point.y < box.bottom + 8; };
    if (!at(`chart-${edge.dataset.from ?? "-start"}`, points[0]) || !at(`chart-${edge.dataset.to}`, points.at(-1))) wrong.push(`line ${edge.dataset.from} ${edge.dataset.way} is torn off`);
    points.slice(1).forEach((b, place) => {
      const a = points[place];
      for (const box of insets) if (Math.min(a.x, b.x) < box.right && Math.max(a.x, b.x) > box.left && Math.min(a.y, b.y) < box.bottom && Math.max(a.y, b.y) > box.top) wrong.push(`line ${edge.dataset.from} ${edge.dataset.way} cuts an inset`);
    });
  }
  return wrong;
}

test("procedures that are carried out open in place and shut again; nothing meets, no line is torn", async () => {
  const page = await chartPage();
  const drawn = () => page.locator("#chart--whole > svg").evaluate((svg) => [svg.getAttribute("viewBox"), ...[...svg.querySelectorAll(".chart__line")].map((line) => line.getAttribute("d"))].join("\n"));
  const plain = await drawn();
  assert.deepEqual(await page.evaluate(torn), []);
  const folds = page.locator(".chart__fold");
  const count = await folds.count();
  assert.equal(count, IDS.filter((id) => OWN.steps[id].callee).length);
  for (let one = 0; one < count; one++) {
    await folds.nth(one).focus();
    await page.keyboard.press("Enter");
    await page.locator(".chart__inset").nth(one).waitFor();
    assert.equal(await folds.nth(one).getAttribute("aria-expanded"), "true");
    if (one < 2 || one === count - 1) assert.deepEqual(await page.evaluate(torn), [], `${one + 1} open`);
  }
  const callee = FLOW.procedures[OWN.steps[IDS.find((id) => OWN.steps[id].callee)].callee];
  const links = await page.locator(".chart__inset a").evaluateAll((all) => all.map((one) => one.getAttribute("href")));
  for (const step of Object.keys(callee.steps)) assert.ok(links.includes(`${callee.id}.html#step-${step}`), step);
  assert.equal(await page.evaluate(() => document.querySelectorAll("[id]").length - new Set([...document.querySelectorAll("[id]")].map((one) => one.id)).size), 0);
  for (let one = 0; one < count; one++) await folds.nth(one).click({ force: true });
  assert.equal(await page.locator(".chart__inset").count(), 0);
  assert.equal(await drawn(), plain);
  await close(page);
});

test("the chart goes along with a run: where it is, what was taken, what may still come; then a step's words are the follower's alone", async () => {
  const page = await chartPage();
  for (const [name, value] of [["person", "ordinary"], ["alone", "yes"], ["caller", "no"]]) await page.locator(`input[name=${name}][value=${value}]`).check();
  await page.locator("input[name=model]").first().check();
  await page.locator(".follower button[type=submit]").click();
  await page.waitForTimeout(330);
  const first = OWN.steps[OWN.start];
  const way = first.ways.findIndex((one) => one.kind === "answer");
  await page.locator(".follower__ways").getByRole("button", { name: first.ways[way].text }).click();
  await page.waitForTimeout(330);
  const here = first.ways[way].then;
  assert.deepEqual(await page.locator("#chart--whole .is-here").evaluateAll((all) => all.map((one) => one.id)), [`chart-${here}`]);
  assert.equal(await page.locator(`#chart-${here} a`).getAttribute("aria-current"), "step");
  assert.equal(await page.locator(".chart__here text").textContent(), "here");
  const taken = await page.locator("#chart--whole .chart__edge.is-taken[data-from]").evaluateAll((all) => all.map((one) => `${one.dataset.from}.${one.dataset.way}`));
  assert.deepEqual(taken, [`${first.id}.${way}`]);
  const reach = new Set([here]);
  for (const id of reach) for (const one of OWN.steps[id].ways) reach.add(one.then);
  const open = await page.locator("#chart--whole > svg > .chart__node.is-open").evaluateAll((all) => all.map((one) => one.dataset.step));
  assert.deepEqual(open.sort(), [...reach].sort());
  assert.ok(open.length < IDS.length, "some steps can no longer come");
  const worded = Object.keys(OWN.steps).find((id) => reach.has(id) && id !== here);
  await page.locator("#chart--find").fill(OWN.steps[worded].text.split(" ").slice(0, 4).join(" "));
  await page.keyboard.press("Enter");
  await page.keyboard.press("Enter");
  assert.ok(await page.locator(".chart-step .step__sentence").isVisible());
  assert.equal(await page.locator(".chart-step .step__words").count(), 0);
  await close(page);
});

test("alive, with a step shown and a procedure opened, it breaks no automatic rule of accessibility, light and dark (axe-core)", async () => {
  const axe = readFileSync(createRequire(new URL("../outside/", import.meta.url)).resolve("axe-core/axe.min.js"), "utf8");
  for (const colorScheme of ["light", "dark"]) {
    const page = await chartPage({ colorScheme, bypassCSP: true });
    await page.locator("#chart--lens").selectOption({ index: 1 });
    await page.locator(".chart__fold").first().click();
    await page.locator(".chart__inset").waitFor();
    await page.locator(`#chart-${OWN.start} a`).click();
    await page.evaluate(axe);
    const { violations, passes } = await page.evaluate(() => axe.run("#flowchart", { runOnly: { type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] } }));
    assert.ok(passes.length > 10, "no rule was run");
    // The lines of a drawn symbol are read as one word by this rule; the test of all pages looks at them by line.
    const found = violations.filter((one) => one.id !== "label-content-name-mismatch").map((one) => `${one.id}: ${one.nodes.slice(0, 3).map((node) => node.target.join(" ")).join(", ")} ${one.nodes[0].failureSummary}`);
    assert.deepEqual(found, [], colorScheme);
    // The engine itself tries to fetch the style sheet, which from a folder nothing can.
    await page.context().close();
  }
});

test("without script the drawing is plain, each symbol leads to its step, and a list says the same", async () => {
  const page = await chartPage({ javaScriptEnabled: false });
  assert.equal(await page.locator(".chart-tools").count(), 0);
  const hrefs = await page.locator("#chart--whole .chart__node a").evaluateAll((all) => all.map((one) => one.getAttribute("href")));
  assert.deepEqual(hrefs, IDS.map((id) => `#step-${id}`));
  assert.equal(await page.locator(".chart-outline__step").count(), IDS.length);
  await page.locator("#chart--whole .chart__node a").first().click();
  assert.equal(new URL(page.url()).hash, hrefs[0]);
  await close(page);
});

const stepsOf = (name) => { const flow = flowOf(`procedures/${name}`); return Object.keys(flow.procedures[flow.procedure].steps).length; };

test("a poster, of the shortest flows as of the longest, is one sheet of A4 or A3 with the words of every step and of every caution, as text, no smaller than it says", async (context) => {
  const folder = mkdtempSync(join(tmpdir(), "stepward-poster-"));
  try {
    const all = readdirSync(new URL("posters/", SITE)).sort();
    const bySteps = all.toSorted((a, b) => stepsOf(a) - stepsOf(b));
    assert.ok(all.length > 5);
    for (const name of [...bySteps.slice(0, 2), ...bySteps.slice(-2)]) {
      const page = await openPage(browser, SITE.href, `posters/${name}`);
      const file = join(folder, "poster.pdf");
      await page.pdf({ path: file, preferCSSPageSize: true });
      const about = execFileSync("pdfinfo", [file], { encoding: "utf8" });
      assert.match(about, /Pages: +1\n/, name);
      const [, wide, high] = /Page size: +([\d.]+) x ([\d.]+)/.exec(about).map(Number);
      // ISO 216 in points.
      const sizes = [[595, 842], [842, 1191]];
      assert.ok(sizes.some(([a, b]) => Math.abs(Math.min(wide, high) - a) < 2 && Math.abs(Math.max(wide, high) - b) < 2), about);
      const text = execFileSync("pdftotext", ["-raw", file, "-"], { encoding: "utf8" }).replace(/\s/g, "");
      const words = await page.locator(".poster .chart__text tspan, .poster__cautions strong").evaluateAll((all) => all.map((one) => one.textContent.replace(/\s/g, "")));
      assert.ok(words.length > stepsOf(name));
      for (const line of words) assert.ok(text.includes(line), `${name}: ${line}`);
      const [, promised] = /([\d.]+) points/.exec(await page.locator(".poster__help").textContent()).map(Number);
      const margins = 2 * 10;
      await page.emulateMedia({ media: "print" });
      await page.setViewportSize({ width: Math.round(wide / 72 * 96 - margins / 25.4 * 96), height: Math.round(high / 72 * 96) });
      const set = await page.locator(".poster .chart__text").first().evaluate((text) => Number(text.getAttribute("font-size")) * text.getScreenCTM().a * 72 / 96);
      assert.ok(set > promised * 0.95, `${name}: ${set} points, not ${promised}`);
      context.diagnostic(`${name}: ${Math.round(wide)} x ${Math.round(high)} pt; words ${set.toFixed(1)} points, ${promised} promised`);
      await close(page);
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});

/** The drawing four times side by side: over two hundred steps. */
function fourfold() {
  const svg = document.querySelector("#chart--whole > svg");
  const own = [...svg.querySelectorAll(":scope > .chart__node, :scope > .chart__edge")];
  const { width, height } = svg.viewBox.baseVal;
  for (let copy = 1; copy < 5; copy++) {
    for (const one of own) {
      const again = one.cloneNode(true);
      again.removeAttribute("id");
      again.setAttribute("transform", `translate(${copy % 3 * width} ${Math.floor(copy / 3) * height})`);
      svg.append(again);
    }
  }
  svg.setAttribute("viewBox", `0 0 ${3 * width} ${2 * height}`);
  svg.setAttribute("width", 3 * width);
  svg.setAttribute("height", 2 * height);
  return svg.querySelectorAll(":scope > .chart__node").length;
}

/** Milliseconds of the middle one of forty frames while the wheel turns, or while the drawing is moved. */
async function frames(what) {
  const region = document.querySelector("#chart--whole");
  const times = [];
  let last = await new Promise(requestAnimationFrame);
  for (let frame = 0; frame < 40; frame++) {
    if (what === "zoom") region.dispatchEvent(new WheelEvent("wheel", { ctrlKey: true, deltaY: frame < 20 ? 4 : -4, clientX: 500, clientY: 500, bubbles: true, cancelable: true }));
    else region.scrollBy(5, frame < 20 ? 9 : -9);
    const now = await new Promise(requestAnimationFrame);
    times.push(now - last);
    last = now;
  }
  return times.sort((a, b) => a - b)[20];
}

test("two hundred steps stay fluid on a processor half as fast", async (context) => {
  const page = await chartPage();
  const devtools = await page.context().newCDPSession(page);
  await devtools.send("Emulation.setCPUThrottlingRate", { rate: 2 });
  const nodes = await page.evaluate(fourfold);
  assert.ok(nodes >= 200, String(nodes));
  const full = { zoom: await page.evaluate(frames, "zoom"), pan: await page.evaluate(frames, "pan") };
  await page.evaluate(() => document.querySelectorAll("#chart--whole > svg > *").forEach((one) => one.remove()));
  const floor = { zoom: await page.evaluate(frames, "zoom"), pan: await page.evaluate(frames, "pan") };
  context.diagnostic(`${nodes} steps, milliseconds a frame (of an empty drawing): zoom ${full.zoom.toFixed(1)} (${floor.zoom.toFixed(1)}), pan ${full.pan.toFixed(1)} (${floor.pan.toFixed(1)})`);
  // On an idle machine both are 16.7; the bar is a ratio, since a busy one slows both.
  for (const what of ["zoom", "pan"]) assert.ok(full[what] <= 4 * Math.max(floor[what], 16.7), `${what} ${full[what]}`);
  await close(page);
});

/** Lines of words that are wider than the symbol or the ground they stand on; beside the small symbol of a procedure to go on with there is room for its words. */
function tooWide(face) {
  let lines = 0;
  const wrong = [];
  const compare = (line, width) => {
    lines += 1;
    if (line.getComputedTextLength() > width + 0.5) wrong.push(`${line.textContent} (${face})`);
  };
  const svg = document.querySelector("svg.chart");
  for (const line of svg.querySelectorAll("text, tspan")) line.style.fontFamily = face;
  for (const node of svg.querySelectorAll(".chart__node:not(.chart__node--referred)")) {
    const shape = node.querySelector(".chart__shape")?.getBBox();
    if (shape) node.querySelectorAll(".chart__text tspan").forEach((line) => compare(line, shape.width));
  }
  for (const ground of svg.querySelectorAll(".chart__edge rect")) ground.parentElement.querySelectorAll("tspan").forEach((line) => compare(line, ground.getBBox().width));
  return { lines, wrong };
}

// The sheet was laid out by the compiler's own widths of letters; the browser measures the real faces (Debian's fonts-liberation and fonts-dejavu: a narrow one and a wide one).
test("the words of each symbol and each label fit in their room, in a narrow face and in a wide one", async () => {
  const page = await openPage(browser, SITE.href, "index.html");
  const widths = new Set();
  let all = 0;
  for (const path of FEW.filter((one) => flowOf(one) !== null)) {
    await page.goto(SITE.href + path);
    for (const face of ["Liberation Sans", "DejaVu Sans"]) {
      const { lines, wrong } = await page.evaluate(tooWide, face);
      assert.deepEqual(wrong, [], path);
      all += lines;
      widths.add(await page.locator(".chart__text tspan").first().evaluate((line) => line.getComputedTextLength()));
    }
  }
  assert.ok(all > 1000, `${all} lines`);
  assert.ok(widths.size >= 2, "both faces are the same one");
  await close(page);
});
