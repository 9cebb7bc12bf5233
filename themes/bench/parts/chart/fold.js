// A procedure that is carried out, opened in the drawing that carries it out. Its chart is fetched as a script: pages opened from a folder can fetch nothing else.
import { make } from "../follower/make.js";
import { say as sayOf } from "../follower/words.js";
import { cornersOf, cutFor, pathOf, pulled } from "./stretch.js";
import { edgesOf, nodesOf, piece } from "./svg.js";

const say = (/** @type {string} */ key, values = {}) => sayOf(key, values, "flowchart");
/** @typedef {{x: number, y: number}} Point */
/** Around what is opened, and above it for its name. */
const GAP = 24;
const HEAD = 28;

/** @type {Map<string, Promise<any>>} */
const loading = new Map();

/** The chart of another procedure. @param {string} procedure @param {string} address @returns {Promise<{title: string, svg: string}>} */
function fetched(procedure, address) {
  const known = loading.get(procedure);
  if (known) return known;
  const coming = new Promise((done, failed) => {
    const took = (/** @type {Event} */ event) => {
      const { detail } = /** @type {CustomEvent} */ (event);
      if (detail.procedure !== procedure) return;
      document.removeEventListener("stepward:drawing", took);
      done(detail);
    };
    document.addEventListener("stepward:drawing", took);
    document.head.append(make("script", { src: `${document.body.dataset.root ?? ""}${address}`, error: () => { loading.delete(procedure); failed(new Error(`${address} is not there`)); } }));
  });
  loading.set(procedure, coming);
  return coming;
}

/** The words of a step without its number and its kind. @param {import("./svg.js").Node} node */
function nameOf(node) {
  return node.words.replace(/^\d+\. [^:]*: /, "");
}

export class Folds {
  /** @param {SVGSVGElement} svg @param {import("./view.js").View} view @param {Record<string, string>} drawings @param {(words: string, node: Element | null) => void} tell */
  constructor(svg, view, drawings, tell) {
    this.svg = svg;
    this.view = view;
    this.drawings = drawings;
    this.tell = tell;
    /** What is open, by step. @type {Map<string, {inner: SVGSVGElement, title: string}>} */
    this.open = new Map();
    /** The drawing as it came. @type {any} */
    this.plain = null;
    for (const node of nodesOf(svg)) if (drawings[node.group.dataset.callee ?? ""]) this.button(node);
  }

  /** @param {import("./svg.js").Node} node */
  button(node) {
    const shape = /** @type {SVGGraphicsElement} */ (node.group.querySelector(".chart__shape"));
    const { x, y, width, height } = shape.getBBox();
    const toggle = () => this.toggle(node);
    const press = (/** @type {KeyboardEvent} */ event) => {
      if (event.key !== "Enter" && event.key !== " ") return;
      event.preventDefault();
      toggle();
    };
    const [left, top] = [x + width - 30, y + height - 12];
    const name = nameOf(node);
    const sign = piece("path", { class: "chart__fold-sign", d: `M${left + 6} ${top + 12}h12M${left + 12} ${top + 6}v12` });
    node.group.append(piece("g", { class: "chart__fold", role: "button", tabindex: 0, "aria-expanded": "false", "aria-label": say("open", { name }), click: toggle, keydown: press }, piece("rect", { x: left, y: top, width: 24, height: 24 }), sign));
  }

  /** @param {import("./svg.js").Node} node */
  async toggle(node) {
    const callee = node.group.dataset.callee ?? "";
    const name = nameOf(node);
    const opens = !this.open.has(node.id);
    try {
      if (opens) {
        const { svg, title } = await fetched(callee, this.drawings[callee]);
        this.open.set(node.id, { inner: innerOf(svg), title });
      } else this.open.delete(node.id);
    } catch {
      this.tell(say("not-opened", { name }), null);
      return;
    }
    const button = node.group.querySelector(".chart__fold");
    button?.setAttribute("aria-expanded", String(opens));
    button?.setAttribute("aria-label", say(opens ? "shut" : "open", { name }));
    button?.querySelector("path")?.classList.toggle("is-open", opens);
    this.lay();
    this.tell(opens ? say("opened", { name }) : "", node.group);
  }

  /** Measures the drawing before anything is opened in it. */
  measured() {
    const nodes = /** @type {SVGGraphicsElement[]} */ ([...this.svg.querySelectorAll(":scope > .chart__node")]).map((group) => {
      const box = group.getBBox();
      const shape = /** @type {SVGGraphicsElement} */ (group.querySelector(".chart__shape")).getBBox();
      return { group, id: group.dataset.step, box: { left: box.x, top: box.y, right: box.x + box.width, bottom: box.y + box.height }, axis: shape.x + shape.width / 2, middle: shape.y + shape.height / 2, edge: shape.x + shape.width };
    });
    const of = (/** @type {string | undefined} */ id) => nodes.find((node) => node.id === id);
    const edges = edgesOf(this.svg).map((edge) => ({
      ends: [of(edge.dataset.from), of(edge.dataset.to)],
      lines: [...edge.querySelectorAll("path")].map((path) => ({ path, corners: cornersOf(path.getAttribute("d") ?? "") })),
      others: /** @type {SVGGraphicsElement[]} */ ([...edge.querySelectorAll("polygon, rect, text")]).map((element) => {
        const box = element.getBBox();
        return { element, at: { x: box.x + box.width / 2, y: box.y + box.height / 2 } };
      }),
    }));
    const { width, height } = this.svg.viewBox.baseVal;
    return { nodes, edges, width, height };
  }

  /** Lays the drawing out anew around what is open. */
  lay() {
    this.plain ??= this.measured();
    const { nodes, edges, width, height } = this.plain;
    const boxes = nodes.map((/** @type {any} */ node) => node.box);
    const opened = nodes.filter((/** @type {any} */ node) => this.open.has(node.id)).map((/** @type {any} */ node) => {
      const { inner, title } = /** @type {any} */ (this.open.get(node.id));
      const size = inner.viewBox.baseVal;
      return { node, inner, title, size, cut: { ...cutFor(node.box, boxes), width: size.width + 3 * GAP, height: size.height + HEAD + 3 * GAP } };
    });
    const move = pulled(opened.map((/** @type {any} */ one) => one.cut));
    const by = (/** @type {Element} */ element, /** @type {any} */ from, to = move(from)) => {
      if (to.x === from.x && to.y === from.y) element.removeAttribute("transform");
      else element.setAttribute("transform", `translate(${to.x - from.x} ${to.y - from.y})`);
    };
    for (const { group, box, axis } of nodes) by(group, { x: axis, y: box.top });
    for (const { ends, lines, others } of edges) {
      /** What ends at a box's side goes along with the box, wherever the cut runs. @param {Point} point @param {any} node */
      const beside = (point, node) => (node && (point.x <= node.box.left || point.x >= node.edge) ? move({ x: node.axis, y: node.box.top }).x - node.axis : null);
      const tip = lines[0]?.corners.at(-1);
      const along = tip ? beside(tip, ends[1]) : null;
      for (const { path, corners } of lines) {
        const moved = corners.map(move);
        for (const [place, node] of [[0, ends[0]], [corners.length - 1, ends[1]]]) {
          const shift = beside(corners[place], node);
          if (shift !== null) moved[place].x = corners[place].x + shift;
        }
        path.setAttribute("d", pathOf(moved));
      }
      for (const { element, at } of others) {
        if (along !== null && Math.abs(at.x - tip.x) + Math.abs(at.y - tip.y) < HEAD / 2) by(element, at, { x: at.x + along, y: move(at).y });
        else by(element, at);
      }
    }
    this.svg.querySelectorAll(":scope > .chart__inset, :scope > .chart__here").forEach((old) => old.remove());
    for (const one of opened) this.svg.append(inset(one, move));
    const end = move({ x: width, y: height });
    this.svg.setAttribute("viewBox", `0 0 ${end.x} ${end.y}`);
    this.view.measure();
    document.dispatchEvent(new Event("stepward:run"));
  }
}

/** A chart from elsewhere, without its names. @param {string} text */
function innerOf(text) {
  const read = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
  const svg = /** @type {any} */ (document.importNode(read, true));
  for (const element of [svg, ...svg.querySelectorAll("[id]")]) element.removeAttribute("id");
  for (const name of ["aria-labelledby", "aria-describedby"]) svg.removeAttribute(name);
  return /** @type {SVGSVGElement} */ (svg);
}

/** What is opened, in its frame, tied to its step. @param {any} one @param {(point: any) => any} move */
function inset({ node, inner, title, size, cut }, move) {
  const at = move({ x: cut.x, y: cut.y });
  const [left, top] = [at.x + GAP, at.y + GAP];
  for (const [name, value] of Object.entries({ x: left + GAP / 2, y: top + HEAD, width: size.width, height: size.height, "aria-label": title })) inner.setAttribute(name, String(value));
  const from = move({ x: node.axis, y: node.box.top });
  const [edge, middle] = [node.edge + from.x - node.axis, node.middle + from.y - node.box.top];
  return piece("g", { class: "chart__inset" },
    piece("path", { class: "chart__tie", d: `M${edge} ${middle}H${left + GAP / 2}V${top}` }),
    piece("rect", { class: "chart__inset-frame", x: left, y: top, width: size.width + GAP, height: size.height + HEAD + GAP / 2 }),
    piece("text", { class: "chart__title", x: left + GAP / 2, y: top + 19, "font-size": 14 }, title), inner);
}
