// The published demo for the browser's tests: its pages, opened from the folder or from this computer's own server, and ways through its flows.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { readdirSync, readFileSync, statSync } from "node:fs";
import { createServer } from "node:http";
import { createRequire } from "node:module";
import { extname } from "node:path";
import { pathToFileURL } from "node:url";
import { fieldsOf, measuredValue, nearAnEdge, takenReadings, wayOfValue } from "../../themes/bench/script/reading.js";
import { random } from "../script/observer.mjs";

const { chromium } = createRequire(new URL("../outside/", import.meta.url))("playwright-core");
/** The browser without its window takes a third of the time; `CHROMIUM` names another one. */
const executablePath = process.env.CHROMIUM ?? execFileSync("sh", ["-c", "command -v chromium-headless-shell || command -v chromium"], { encoding: "utf8" }).trim();
const TYPES = { ".html": "text/html; charset=utf-8", ".css": "text/css", ".js": "text/javascript", ".json": "application/json", ".svg": "image/svg+xml" };

/** The committed demo, or the folder that `SITE` names. */
export const SITE = process.env.SITE ? pathToFileURL(`${process.env.SITE}/`) : new URL("../../site-demo/", import.meta.url);
/** The pages of the rules are set alike, as are the posters: their list, and every tenth of them. */
const ofRule = (name) => (name.startsWith("rules/") && name !== "rules/index.html") || name.startsWith("posters/");
const every = readdirSync(SITE, { recursive: true }).filter((name) => name.endsWith(".html")).sort();
export const PAGES = every.filter((name) => !ofRule(name) || every.filter(ofRule).indexOf(name) % 10 === 0);
/**
 * Procedures are set alike too, and so are their reviews: where looking takes long, the three longest of each kind and every fourth stand for all (`SLOW=1`: all).
 */
const folderOf = (name) => name.split("/").slice(0, -1).join("/");
const sizeOf = (name) => statSync(new URL(name, SITE)).size;
const among = (name) => PAGES.filter((one) => folderOf(one) === folderOf(name));
export const isLong = (name) => among(name).filter((one) => sizeOf(one) > sizeOf(name)).length < 3;
export const FEW = PAGES.filter((name) => process.env.SLOW || isLong(name) || among(name).length < 12 || among(name).indexOf(name) % 4 === 0);

export function launch() {
  return chromium.launch({ executablePath, args: ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"] });
}

/** Files of the site on the loopback address, and nothing else. */
export async function serveSite() {
  const server = createServer((request, response) => {
    const file = new URL(`.${new URL(request.url ?? "/", "http://localhost").pathname}`, SITE);
    const there = file.href.startsWith(SITE.href) && statSync(file, { throwIfNoEntry: false })?.isFile();
    if (there) response.setHeader("content-type", TYPES[extname(file.pathname)] ?? "application/octet-stream").end(readFileSync(file));
    // Browsers ask for this file by themselves; a page does not.
    else response.writeHead(request.url === "/favicon.ico" ? 204 : 404).end();
  });
  await new Promise((done) => server.listen(0, "127.0.0.1", done));
  return { server, address: `http://127.0.0.1:${server.address().port}/` };
}

/** A page of its own; what goes wrong on it, or leaves the site, stands in `problems`. */
export async function openPage(browser, root, path, options = {}) {
  const context = await browser.newContext({ viewport: { width: 360, height: 740 }, ...options });
  const page = await context.newPage();
  page.problems = [];
  page.on("pageerror", (error) => page.problems.push(error.message));
  page.on("console", (message) => message.type() === "error" && page.problems.push(message.text()));
  page.on("request", (request) => !request.url().startsWith(root) && page.problems.push(`leaves the site: ${request.url()}`));
  page.on("response", (response) => response.status() >= 400 && page.problems.push(`${response.status()} ${response.url()}`));
  if (options.clock) await page.clock.install({ time: new Date("2026-11-25T09:00:00Z") });
  await page.goto(root + path);
  return page;
}

/** Closes a page; what went wrong on it is an error. */
export async function close(page) {
  assert.deepEqual(page.problems, [], page.url());
  await page.context().close();
}

export function flowOf(path) {
  const data = /<script type="application\/json" id="flow-data">(.*?)<\/script>/s.exec(readFileSync(new URL(path, SITE), "utf8"));
  return data === null ? null : JSON.parse(data[1]);
}

/** The hazards that must stand before a step's words. */
export function hazardsOf(step) {
  return [...new Set([...step.cautions, ...step.exposes.map((one) => one.hazard)])];
}

/**
 * The shortest way through a procedure to an ending, as `{procedure, step, way}`, a procedure carried out between its own step and the next.
 * Limits of `at-most` are not reached by a way that visits no step twice.
 */
export function wayTo(flow, procedure, isEnd, model) {
  const { start, steps } = flow.procedures[procedure];
  const came = new Map([[start, null]]);
  const open = [start];
  for (const id of open) {
    if (isEnd(steps[id])) return unfold(flow, procedure, came, id, model);
    for (const [index, way] of steps[id].ways.entries()) {
      if (way.kind === "otherwise" || came.has(way.then) || (way.kind === "model" && steps[id].ways.findIndex((one) => one.text === model || one.text === "others") !== index)) continue;
      came.set(way.then, { from: id, way: index });
      open.push(way.then);
    }
  }
  throw new Error(`no way through ${procedure}`);
}

function unfold(flow, procedure, came, last, model) {
  const steps = flow.procedures[procedure].steps;
  const back = [{ procedure, step: steps[last], way: null }];
  for (let link = came.get(last); link; link = came.get(link.from)) back.unshift({ procedure, step: steps[link.from], way: link.way });
  return back.flatMap((one) => {
    if (one.step.kind !== "carry-out") return [one];
    const outcome = one.step.ways[one.way].text;
    return [one, ...wayTo(flow, one.step.callee, (step) => step.outcome === outcome, model)];
  });
}

/** So many random readings are tried until a computed value takes a way. */
const TRIES = 20_000;

/** What to type so that a reading takes a way, well off its edges: a value in the middle of its band, the distance of its part, or readings whose value takes it. */
export function typedFor(flow, step, way, modelId) {
  const model = flow.models.find((one) => one.id === modelId);
  const measure = step.measure;
  if (measure.match !== null) return measure.readings.map((reading) => [reading.id, reading.whole ? "1" : model.repeats[step.ways[way].text].value]);
  if (measure.readings.length > 0) return readingsFor(flow, step, way, model);
  const edge = (limit) => Number(limit.figure === null ? limit.value : model.figures[limit.figure].value);
  const before = step.ways[way - 1]?.kind === "band" ? edge(step.ways[way - 1].limit) : Number(measure.from);
  const after = step.ways[way].limit === null ? Number(measure.to) : edge(step.ways[way].limit);
  return [[null, Math.min((before + after) / 2, before + 10).toFixed(1)]];
}

function readingsFor(flow, step, way, model) {
  const fields = fieldsOf(step);
  const roll = random(7);
  for (let n = 0; n < TRIES; n++) {
    const values = Object.fromEntries(fields.map(({ id, from, to, whole }) => {
      const value = Number(from) + ((Number(to) - Number(from)) * roll(1001)) / (roll(2) ? 1000 : 4000);
      return [id, whole ? String(Math.round(value)) : value.toFixed(1)];
    }));
    const taken = takenReadings(step, values);
    const measured = taken.values ? measuredValue(step, taken.values, model) : {};
    if (measured.value === undefined || wayOfValue(step, measured.value, model) !== way || nearAnEdge(step, taken.values, taken.places, model, way)) continue;
    return Object.entries(values);
  }
  throw new Error(`no readings take way ${way} of ${step.id}`);
}
