// HTML that is well formed as a list of tags and texts, freed from what carries no meaning: quotes of attributes, their order, white space outside `pre`.

const BLOCKS = new Set(['p', 'h1', 'h2', 'h3', 'h4', 'h5', 'h6', 'blockquote', 'pre', 'ul', 'ol', 'li', 'hr']);
const ENTITIES = { amp: '&', lt: '<', gt: '>', quot: '"' };

function decoded(text) {
  return text.replace(/&(?:#(\d+)|#x([0-9a-f]+)|(\w+));/gi, (whole, tens, hex, name) => {
    if (name) {
      if (!(name in ENTITIES)) throw new Error(`an entity that no page of ours holds: ${whole}`);
      return ENTITIES[name];
    }
    return String.fromCodePoint(tens ? Number(tens) : Number.parseInt(hex, 16));
  });
}

/** `adjust(name, attributes)` may change a start tag: it hands back the name, or `null` to leave the tag out with its end. */
export function pieces(html, adjust = (name) => name) {
  const out = [];
  const open = [];
  let depth = 0;
  for (const [, end, name, inside, text] of html.matchAll(/<(\/?)([a-z][a-z0-9]*)((?:\s+[a-z-]+(?:="[^"]*")?)*)\s*\/?>|([^<]+|<)/g)) {
    if (text !== undefined) {
      const words = decoded(text);
      const last = out.at(-1);
      if (last?.text !== undefined) last.text += words;
      else out.push({ text: words, kept: depth > 0 });
    } else if (end) {
      const shown = open.pop();
      if (name === 'pre') depth -= 1;
      if (shown) out.push({ tag: `/${shown}` });
    } else {
      const attributes = Object.fromEntries([...inside.matchAll(/([a-z-]+)="([^"]*)"/g)].map(([, key, value]) => [key, decoded(value)]));
      const shown = adjust(name, attributes);
      if (name === 'pre') depth += 1;
      if (!['hr', 'br', 'img'].includes(name)) open.push(shown);
      if (shown) out.push({ tag: shown, attributes: Object.entries(attributes).sort(([a], [b]) => (a < b ? -1 : 1)) });
    }
  }
  return trimmed(out);
}

/** White space runs become one space; beside the tags of blocks they go. */
function trimmed(list) {
  const isEdge = (piece) => piece === undefined || (piece.tag !== undefined && (BLOCKS.has(piece.tag.replace('/', '')) || piece.tag === 'br'));
  return list.flatMap((piece, index) => {
    if (piece.text === undefined) return [piece];
    if (piece.kept) return [{ text: piece.text }];
    let text = piece.text.replace(/[ \t\n]+/g, ' ');
    if (isEdge(list[index - 1])) text = text.replace(/^ /, '');
    if (isEdge(list[index + 1])) text = text.replace(/ $/, '');
    return text ? [{ text }] : [];
  });
}
