// What a page does that no layout should: looked for inside the page, so each function stands alone.

/** The text spacing that WCAG 2.2, success criterion 1.4.12, names. */
export const SPACING = "* { line-height: 1.5 !important; letter-spacing: .12em !important; word-spacing: .16em !important } p { margin-bottom: 2em !important }";

/** What scrolls or is cut sideways, but for the windows that may. */
export function widerThanAllowed() {
  const allowed = ".chart-scroll, .chart-scroll *, .table-scroll, .table-scroll *, pre, textarea, .out-of-sight";
  const wide = document.documentElement.scrollWidth > innerWidth ? [`page ${document.documentElement.scrollWidth}`] : [];
  for (const element of document.querySelectorAll("body *")) {
    const box = element.getBoundingClientRect();
    if (element.matches(allowed) || box.width === 0 || element.closest(".skip, .out-of-sight")) continue;
    if (element.scrollWidth > element.clientWidth + 1 && getComputedStyle(element).overflowX !== "visible") wide.push(`scrolls: ${element.className}`);
    if (box.right > innerWidth + 1 || box.left < -1) wide.push(`sticks out: ${element.tagName} ${element.className?.baseVal ?? element.className}`);
  }
  return wide;
}

/** Words that are cut off or run over their frame. */
export function cutWords() {
  const own = (element) => [...element.childNodes].some((node) => node.nodeType === 3 && node.data.trim() !== "");
  const cut = [];
  for (const element of document.querySelectorAll(".follower *, .step *, .caution *, .masthead *")) {
    const box = element.getBoundingClientRect();
    if (box.width === 0 || element.closest(".out-of-sight, svg, textarea, .table-scroll") || !own(element)) continue;
    const words = document.createRange();
    words.selectNodeContents(element);
    const text = words.getBoundingClientRect();
    const frame = (element.closest("button, label, a, li, p, dd, .caution__panel") ?? element).getBoundingClientRect();
    if (text.right > innerWidth + 1 || text.right > frame.right + 1 || text.bottom > frame.bottom + 6) cut.push(`${element.className}: ${element.textContent.slice(0, 40)}`);
    const style = getComputedStyle(element);
    if (style.overflow !== "visible" && (element.scrollHeight > element.clientHeight + 1 || element.scrollWidth > element.clientWidth + 1)) cut.push(`hidden: ${element.className}`);
  }
  return cut;
}

/** Makes every word of a page 60 % longer, each in one piece; code and drawings stay what they are. */
export function lengthenWords() {
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    const { currentNode } = texts;
    if (!currentNode.parentElement.closest("script, style, svg, pre, code, textarea")) currentNode.data = currentNode.data.replace(/\p{L}+/gu, (word) => word + "õ".repeat(Math.ceil(word.length * 0.6)));
  }
}

/** Words in the follower that lie over one another. */
export function overlaps() {
  const leaves = [...document.querySelectorAll(".follower *")].filter((one) => one.checkVisibility({ visibilityProperty: true }) && !one.closest("svg, .follower__card--low > .follower__ways") && [...one.childNodes].some((node) => node.nodeType === 3 && node.data.trim() !== ""));
  const boxes = leaves.map((one) => {
    const words = document.createRange();
    words.selectNodeContents(one);
    return { one, lines: [...words.getClientRects()] };
  });
  const over = (a, b) => Math.min(a.right, b.right) - Math.max(a.left, b.left) > 2 && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 6;
  return boxes.flatMap(({ one, lines }, at) => boxes.slice(at + 1).filter((other) => !one.contains(other.one) && !other.one.contains(one) && lines.some((a) => other.lines.some((b) => over(a, b)))).map((other) => `${one.textContent.slice(0, 30)} | ${other.one.textContent.slice(0, 30)}`));
}

/** Everything that is tapped and is lower or narrower than 44 px; links inside a sentence may be (WCAG 2.2, 2.5.8). */
export function smallTargets() {
  const all = document.querySelectorAll(".follower button, .follower a, .follower summary, .follower label.follower__option, .follower input:not([type=radio]), .follower textarea");
  return [...all].filter((one) => one.checkVisibility()).map((one) => [one.textContent.trim() || one.className, one.getBoundingClientRect()]).filter(([, box]) => box.height < 44 || box.width < 44).map(([text, box]) => `${text} ${box.width} x ${box.height}`);
}
