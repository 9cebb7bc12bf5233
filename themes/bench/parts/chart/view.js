// The window onto the drawing: it scrolls natively and the drawing's size is its zoom. Whatever a drag, a wheel or two fingers do, a button does too.

const LEAST = 0.05;
const MOST = 3;
const STEP = 1.25;
/** The frame and the white around the drawing, both sides, in px. */
const ROOM = 26;
/** Text of 14 px is 7 px high then: about the least that can be read on a screen. */
const READABLE = 0.5;
/** A mouse that moved less has clicked. */
const CLICK = 4;
/** After so long without another turn of the wheel a zoom is over. */
const SETTLE_MS = 160;

/** @typedef {{x: number, y: number}} Point  on the screen */

export class View {
  /** @param {HTMLElement} region @param {SVGSVGElement} svg */
  constructor(region, svg) {
    this.region = region;
    this.svg = svg;
    this.scale = 1;
    /** A zoom under way: where the drawing lay when it began, and where it lies now. @type {{box: DOMRect, x: number, y: number, scale: number, timer: number} | null} */
    this.glide = null;
    this.measure();
    region.style.setProperty("--window", `${Math.min(this.height + 32, Math.round(innerHeight * 0.8))}px`);
    region.classList.add("chart-scroll--alive");
    region.addEventListener("wheel", (event) => this.wheeled(event), { passive: false });
    region.addEventListener("keydown", (event) => this.keyed(event));
    region.addEventListener("pointerdown", (event) => this.grabbed(event));
    region.addEventListener("dragstart", (event) => event.preventDefault());
    region.addEventListener("touchstart", (event) => this.pinched(event), { passive: true });
    addEventListener("beforeprint", () => this.sized(1));
    addEventListener("afterprint", () => this.sized(this.scale));
  }

  /** Takes the drawing's own size anew. */
  measure() {
    const { width, height } = this.svg.viewBox.baseVal;
    Object.assign(this, { width, height });
    this.sized(this.scale);
  }

  /** @param {number} scale */
  sized(scale) {
    this.svg.setAttribute("width", String(this.width * scale));
    this.svg.setAttribute("height", String(this.height * scale));
  }

  middle() {
    const box = this.region.getBoundingClientRect();
    return { x: box.left + box.width / 2, y: box.top + box.height / 2 };
  }

  /** Changes the size; the point of the drawing that is at `at` on the screen stays there. @param {number} scale */
  zoomTo(scale, at = this.middle()) {
    this.settle();
    const next = Math.min(MOST, Math.max(LEAST, scale));
    const before = this.svg.getBoundingClientRect();
    const [x, y] = [(at.x - before.left) / this.scale, (at.y - before.top) / this.scale];
    this.scale = next;
    this.sized(next);
    const after = this.svg.getBoundingClientRect();
    this.region.scrollBy(after.left + x * next - at.x, after.top + y * next - at.y);
  }

  /**
   * Zooms step by step: until it is over the picture that is there is only stretched, since drawing it anew in each frame takes too long. What lies at
   * `from` comes to lie at `at`. @param {number} scale @param {Point} at @param {Point} from
   */
  zoomOn(scale, at, from) {
    const glide = (this.glide ??= { box: this.svg.getBoundingClientRect(), x: 0, y: 0, scale: this.scale, timer: 0 });
    const { box } = glide;
    const [x, y] = [(from.x - box.left - glide.x) / glide.scale, (from.y - box.top - glide.y) / glide.scale];
    glide.scale = Math.min(MOST, Math.max(LEAST, scale));
    Object.assign(glide, { x: at.x - box.left - x * glide.scale, y: at.y - box.top - y * glide.scale });
    clearTimeout(glide.timer);
    const stretched = glide.scale / this.scale;
    glide.timer = window.setTimeout(() => this.settle(), SETTLE_MS);
    this.svg.style.transform = `translate(${glide.x}px, ${glide.y}px) scale(${stretched})`;
    // Stretched further the picture is too coarse, or too much of it has to be held.
    if (stretched < 0.5 || stretched > 2) this.settle();
  }

  /** Draws a zoom that is over in its new size. */
  settle() {
    if (this.glide === null) return;
    const { box, x, y, scale, timer } = this.glide;
    clearTimeout(timer);
    this.glide = null;
    this.scale = scale;
    this.svg.style.transform = "";
    this.sized(scale);
    const after = this.svg.getBoundingClientRect();
    this.region.scrollBy(after.left - box.left - x, after.top - box.top - y);
  }

  /** @param {number} steps */
  zoomBy(steps) {
    this.zoomTo(this.scale * STEP ** steps);
  }

  /** All of the drawing in sight. */
  whole() {
    this.zoomTo(Math.min(1, (this.region.clientWidth - ROOM) / this.width, (this.region.clientHeight - ROOM) / this.height));
  }

  /** As wide as the window, and never so small that its words are lost, nor bigger than drawn; what is at the window's top stays there. */
  wide() {
    const scale = Math.min(1, Math.max(READABLE, (this.region.clientWidth - ROOM) / this.width));
    const box = this.region.getBoundingClientRect();
    this.zoomTo(scale, { x: box.left + box.width / 2, y: box.top });
  }

  /** By a part of the window. @param {number} right @param {number} down */
  move(right, down) {
    this.region.scrollBy(right * this.region.clientWidth * 0.6, down * this.region.clientHeight * 0.6);
  }

  /** Brings a symbol into sight; only the window scrolls, never the page. @param {Element | null} node */
  show(node) {
    if (!node) return;
    const box = node.getBoundingClientRect();
    const view = this.region.getBoundingClientRect();
    this.region.scrollBy(box.left + box.width / 2 - view.left - view.width / 2, box.top + box.height / 2 - view.top - Math.min(view.height / 2, 160));
  }

  /** @param {WheelEvent} event */
  wheeled(event) {
    if (!event.ctrlKey) return;
    event.preventDefault();
    const at = { x: event.clientX, y: event.clientY };
    this.zoomOn((this.glide?.scale ?? this.scale) * Math.exp(-Math.max(-80, Math.min(80, event.deltaY)) / 200), at, at);
  }

  /** @param {KeyboardEvent} event */
  keyed(event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const act = { "+": () => this.zoomBy(1), "=": () => this.zoomBy(1), "-": () => this.zoomBy(-1), 0: () => this.zoomTo(1) }[event.key];
    if (!act) return;
    event.preventDefault();
    act();
  }

  /** A mouse drags; fingers scroll by themselves. @param {PointerEvent} event */
  grabbed(event) {
    if (event.pointerType !== "mouse" || event.button !== 0) return;
    const from = { x: event.clientX, y: event.clientY, left: this.region.scrollLeft, top: this.region.scrollTop };
    let dragged = false;
    const moved = (/** @type {PointerEvent} */ now) => {
      const [x, y] = [now.clientX - from.x, now.clientY - from.y];
      dragged ||= Math.hypot(x, y) > CLICK;
      if (!dragged) return;
      this.region.classList.add("is-dragged");
      this.region.scrollTo(from.left - x, from.top - y);
    };
    const done = () => {
      removeEventListener("pointermove", moved);
      this.region.classList.remove("is-dragged");
      // The click that ends a drag is meant for nothing.
      const stop = (/** @type {Event} */ click) => { click.preventDefault(); click.stopPropagation(); };
      if (!dragged) return;
      addEventListener("click", stop, { capture: true, once: true });
      setTimeout(() => removeEventListener("click", stop, { capture: true }));
    };
    addEventListener("pointermove", moved);
    for (const end of ["pointerup", "pointercancel"]) addEventListener(end, done, { once: true });
  }

  /** Two fingers. @param {TouchEvent} event */
  pinched(event) {
    if (event.touches.length !== 2) return;
    const middle = (/** @type {TouchList} */ [a, b]) => ({ x: (a.clientX + b.clientX) / 2, y: (a.clientY + b.clientY) / 2, apart: Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY) });
    this.settle();
    const start = { ...middle(event.touches), scale: this.scale };
    let last = start;
    const moved = (/** @type {TouchEvent} */ now) => {
      if (now.touches.length !== 2) return;
      now.preventDefault();
      const next = middle(now.touches);
      this.zoomOn(start.scale * next.apart / start.apart, next, last);
      last = { ...last, ...next };
    };
    this.region.addEventListener("touchmove", moved, { passive: false });
    for (const end of ["touchend", "touchcancel"]) this.region.addEventListener(end, () => this.region.removeEventListener("touchmove", moved), { once: true });
  }
}
