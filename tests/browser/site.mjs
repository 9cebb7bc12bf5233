// The published demo for the browser's tests: its pages, opened from the folder or from this computer's own server, and ways through its flows.
import { execFileSync } from "node:child_process";
import { readdirSync, readFileSync, statSync } from "node:fs";
import { createServer } from "node:http";
import { createRequire } from "node:module";
import { extname } from "node:path";

const { chromium } = createRequire(new URL("../outside/", import.meta.url))("playwright-core");
const executablePath = process.env.CHROMIUM ?? execFileSync("which", ["chromium"], { encoding: "utf8" }).trim();
const TYPES = { ".html": "text/html; charset=utf-8", ".css": "text/css", ".js": "text/javascript", ".json": "application/json", ".svg": "image/svg+xml" };

export const SITE = new URL("../../site-demo/", import.meta.url);
/** The pages of the rules are set alike: their list, and every tenth of them. */
const ofRule = (name) => name.startsWith("rules/") && name !== "rules/index.html";
const every = readdirSync(SITE, { recursive: true }).filter((name) => name.endsWith(".html")).sort();
export const PAGES = every.filter((name) => !ofRule(name) || every.filter(ofRule).indexOf(name) % 10 === 0);

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

/** What to type so that a reading takes a way: a value in the middle of its band, or the distance of its part. */
export function typedFor(flow, step, way, modelId) {
  const model = flow.models.find((one) => one.id === modelId);
  const measure = step.measure;
  if (measure.match !== null) return measure.readings.map((reading) => [reading.id, reading.whole ? "1" : model.repeats[step.ways[way].text].value]);
  const edge = (limit) => Number(limit.figure === null ? limit.value : model.figures[limit.figure].value);
  const before = step.ways[way - 1]?.kind === "band" ? edge(step.ways[way - 1].limit) : Number(measure.from);
  const after = step.ways[way].limit === null ? Number(measure.to) : edge(step.ways[way].limit);
  const value = Math.min((before + after) / 2, before + 10).toFixed(1);
  return measure.readings.length === 0 ? [[null, value]] : measure.readings.map((reading) => [reading.id, value]);
}
