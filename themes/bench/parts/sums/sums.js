// The bench sums: makes fields of the example's values, refuses what cannot be true, and works each sum anew as somebody types.
import { readNumber } from "../../script/reading.js";
import { shown } from "../../script/trade/number.js";
import { answersOf } from "../../script/trade/sum.js";
import { WORKS } from "../../script/trade/work.js";
import { make } from "../follower/make.js";
import { say as sayOf } from "../follower/words.js";
import { drawCooling } from "./cooling.js";

/** @param {string} key @param {Record<string, unknown>} values */
const say = (key, values = {}) => sayOf(key, values, "sums");

/** Millimetres of a ruler's drawing. */
const RULER = 180;

/** @typedef {import("../../script/trade/sum.js").Sum} Sum @typedef {import("../../script/trade/sum.js").Input} Input */

/** The field for a reading. @param {Input} input @param {string} key @param {{name: string}[]} models */
function fieldFor(input, key, models) {
  const named = { id: key, name: input.id, "aria-labelledby": `${key}-label`, "aria-describedby": `${key}-range ${key}-refusal` };
  if (input.kind === "number") return make("input", { ...named, value: String(input.value), inputmode: input.from.startsWith("-") ? "text" : input.whole ? "numeric" : "decimal", autocomplete: "off" });
  if (input.kind === "colour") return make("input", { ...named, value: `#${input.value.toString(16).padStart(6, "0").toUpperCase()}`, autocomplete: "off", spellcheck: "false" });
  const options = input.kind === "model" ? models.map(({ name }, place) => [name, place]) : input.choices;
  return make("select", named, ...options.map(([name, value]) => make("option", { value, selected: value === input.value }, String(name))));
}

/** What somebody typed: its number, or why it is refused. @param {Input} input @param {string} typed @returns {{value: number, edge?: boolean} | {refusal: string}} */
export function readField(input, typed) {
  if (input.kind === "choice" || input.kind === "model") return { value: Number(typed) };
  if (input.kind === "colour") {
    const digits = /^#?([0-9a-f]{6})$/i.exec(typed.trim());
    return digits ? { value: Number.parseInt(digits[1], 16) } : { refusal: say("refused-colour") };
  }
  const read = readNumber(typed, input);
  if ("value" in read) return { value: Number(read.value), edge: read.value === input.from || read.value === input.to };
  const range = { from: input.from.replace("-", "\u2212"), to: input.to, unit: input.unit };
  const parts = [say(`refused-${read.reason}`, range)];
  if (read.reason === "range") {
    const [meant] = read.meant ?? [];
    if (input.slip) parts.push(say("refused-slip", { slip: input.slip }));
    if (meant) parts.push(say("refused-meant", { value: `${meant.value} ${input.unit}`.trim() }));
  }
  return { refusal: parts.join(" ") };
}

/** @param {Sum} sum @param {Record<string, number>} values @param {any} data */
function resultsOf(sum, values, data) {
  if (sum.work !== null) {
    const rollers = data.models[values.model ?? 0]?.rollers ?? [];
    return WORKS[sum.work](values, { rollers, sizes: data.sizes }).map(({ key, values: filled }) => make("p", { class: "sum__row" }, say(`row-${key}`, Object.fromEntries(filled))));
  }
  return answersOf(sum, values).map((answer, place) => {
    const outcome = sum.results[place];
    if ("says" in answer) return make("p", { class: "sum__refusal" }, answer.says);
    if ("nothing" in answer) return make("p", { class: "sum__refusal" }, say("nothing"));
    return make("p", { class: "sum__result" }, make("span", {}, outcome.name), " ",
      make("span", { class: "sum__number" }, shown(answer.value, outcome)), " ", make("span", { class: "sum__unit" }, outcome.unit));
  });
}

/** A line across the ruler for each step of a reading. @param {number} step */
function steps(step) {
  let path = "";
  for (let x = step; x <= RULER - 4; x += step) path += `M${(x + 2).toFixed(2)} 10V${RULER}`;
  return path;
}

/** A refusal that stands for several results is said once. @param {HTMLElement[]} lines */
function once(lines) {
  return lines.filter((line, place) => line.className !== "sum__refusal" || lines.findIndex((other) => other.textContent === line.textContent) === place);
}

/** @param {Element} form @param {Sum} sum @param {any} data */
function bring(form, sum, data) {
  /** @type {{input: Input, field: HTMLInputElement | HTMLSelectElement, refusal: HTMLElement}[]} */
  const fields = sum.inputs.map((input) => {
    const box = /** @type {HTMLElement} */ (form.querySelector(`[data-field="${input.id}"]`));
    const key = `${sum.id}-${input.id}`;
    const field = /** @type {HTMLInputElement} */ (fieldFor(input, key, data.models));
    const refusal = make("p", { class: "sum__refusal", id: `${key}-refusal`, "aria-live": "polite" });
    box.querySelector("[data-value]")?.replaceWith(field);
    box.append(refusal);
    if (input.kind === "choice") box.querySelector(".sum__range")?.replaceChildren();
    return { input, field, refusal };
  });
  const work = () => {
    /** @type {Record<string, number>} */
    const values = {};
    let whole = true;
    for (const { input, field, refusal } of fields) {
      const read = readField(input, field.value);
      const refused = "refusal" in read;
      if (refused) whole = false;
      else values[input.id] = read.value;
      refusal.textContent = refused ? read.refusal : read.edge ? say("at-edge") : "";
      refusal.classList.toggle("sum__refusal--edge", !refused);
      field.setAttribute("aria-invalid", String(refused));
    }
    const results = form.querySelector("[data-results]");
    results?.replaceChildren(...(whole ? once(resultsOf(sum, values, data)) : [make("p", { class: "sum__refusal" }, say("missing"))]));
    const figure = form.querySelector("[data-drawing]");
    if (figure) {
      const can = whole && answersOf(sum, values).every((answer) => "value" in answer);
      figure.toggleAttribute("hidden", !can);
      if (can) drawCooling(figure, values);
    }
    form.querySelectorAll("[data-ruler]").forEach((ruler, place) => {
      ruler.toggleAttribute("hidden", place !== (values.model ?? 0));
      ruler.querySelector(".ruler__reading")?.setAttribute("d", whole ? steps(values.length / values.gaps) : "");
    });
  };
  const head = form.querySelector("[data-head]");
  for (const { field } of fields) field.addEventListener("input", () => {
    if (head) head.textContent = say("result");
    work();
  });
  work();
  return (/** @type {Record<string, string>} */ figures) => {
    for (const { input, field } of fields) if (input.figure !== null && Object.hasOwn(figures, input.figure) && takes(input, figures[input.figure])) field.value = figures[input.figure];
    work();
  };
}

/** Whether a figure may stand in a field. @param {Input} input @param {string} figure */
function takes(input, figure) {
  return input.kind === "choice" ? input.choices.some(([, value]) => value === Number(figure)) : "value" in readField(input, figure);
}

/** One choice for the whole page: the figures of a model, in every field that is one of them. @param {any} data @param {((figures: Record<string, string>) => void)[]} fills */
function figureChoice(data, fills) {
  const place = document.querySelector("[data-figures]");
  if (!place || data.figures.length === 0) return;
  const options = [make("option", { value: "" }, say("figures-none")), ...data.figures.map((/** @type {any} */ model, /** @type {number} */ n) => make("option", { value: n }, model.name))];
  const field = /** @type {HTMLSelectElement} */ (make("select", { id: "figures" }, ...options));
  field.addEventListener("input", () => {
    if (field.value !== "") for (const fill of fills) fill(data.figures[Number(field.value)].figures);
  });
  place.append(make("div", { class: "sum__fields sum__fields--page" }, make("div", { class: "sum__field" },
    make("label", { class: "sum__label", for: "figures" }, say("figures")), make("p", { class: "sum__entry" }, field), make("p", { class: "sum__range" }, say("figures-help")))));
}

const element = globalThis.document?.getElementById("sums-data");
if (element) {
  const data = JSON.parse(element.textContent ?? "{}");
  const forms = data.sums.map((/** @type {Sum} */ sum) => ({ sum, form: document.getElementById(sum.id) })).filter((/** @type {any} */ { form }) => form !== null);
  figureChoice(data, forms.map((/** @type {any} */ { sum, form }) => bring(form, sum, data)));
  const asked = document.getElementById(location.hash.slice(1))?.closest("details");
  if (asked) asked.open = true;
}
