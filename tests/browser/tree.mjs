// The accessibility tree that the browser hands to a screen reader (DevTools protocol, Accessibility.getFullAXTree), one line a node: role, name, what it is worth, its state.

/** States that a reader speaks, in this order. */
const STATES = ["level", "checked", "disabled", "expanded", "focused", "invalid", "required", "live", "multiline"];
/** Nodes that say nothing by themselves: what is in them stands a place further out. */
const SILENT = new Set(["none", "generic", "InlineTextBox", "LineBreak", "ListMarker"]);

const said = (value) => JSON.stringify(String(value).replaceAll(/\s+/g, " ").trim());

function line(node) {
  const properties = Object.fromEntries((node.properties ?? []).map(({ name, value }) => [name, value.value]));
  const states = STATES.filter((name) => ![undefined, "", false, "false", "off"].includes(properties[name])).map((name) => (properties[name] === true || properties[name] === "true" ? name : `${name} ${properties[name]}`));
  const name = node.name?.value ? ` ${said(node.name.value)}` : "";
  const description = node.description?.value ? ` described ${said(node.description.value)}` : "";
  const value = node.value?.value !== undefined && node.value.value !== "" && String(node.value.value).length < 60 ? ` value ${said(node.value.value)}` : "";
  return `${node.role.value}${name}${description}${value}${states.length > 0 ? ` (${states.join(", ")})` : ""}`;
}

/** The tree below the element that `selector` finds, as text. */
export async function treeOf(page, selector) {
  const protocol = await page.context().newCDPSession(page);
  await protocol.send("DOM.enable");
  await protocol.send("Accessibility.enable");
  const { root } = await protocol.send("DOM.getDocument", { depth: 0 });
  const { nodeId } = await protocol.send("DOM.querySelector", { nodeId: root.nodeId, selector });
  const { node: element } = await protocol.send("DOM.describeNode", { nodeId });
  const { nodes } = await protocol.send("Accessibility.getFullAXTree");
  await protocol.detach();
  const byId = new Map(nodes.map((node) => [node.nodeId, node]));
  const lines = [];
  const walk = (node, depth, around) => {
    const silent = node.ignored || SILENT.has(node.role.value);
    // The words of a button or a heading are its name already.
    const repeated = node.role.value === "StaticText" && around !== null && around.name?.value?.replaceAll(/\s+/g, " ").trim() === node.name?.value?.replaceAll(/\s+/g, " ").trim();
    if (!silent && !repeated) lines.push(`${"  ".repeat(depth)}${line(node)}`);
    // What somebody typed, or may copy, is its value.
    if (node.role.value === "textbox") return;
    for (const id of node.childIds ?? []) if (byId.has(id)) walk(byId.get(id), silent || repeated ? depth : depth + 1, silent ? around : node);
  };
  walk(nodes.find((node) => node.backendDOMNodeId === element.backendNodeId), 0, null);
  return lines.join("\n");
}
