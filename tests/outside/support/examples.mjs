// The examples on the rules' pages and the cases of the suite, read as `src/rules/example.rs` reads them.
import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { root } from './library.mjs';

function markdown(folder) {
  const names = readdirSync(join(root, folder), { recursive: true }).filter((name) => name.endsWith('.md')).sort();
  return names.map((name) => [`${folder}/${name}`, readFileSync(join(root, folder, name), 'utf8')]);
}

/** A line without its mark, and the rules that the mark names. */
function split(line) {
  const html = line.lastIndexOf('<!-- expect:');
  const yaml = line.lastIndexOf('# expect:');
  const at = html >= 0 ? html : yaml;
  if (at < 0) return [line, []];
  const rules = line.slice(line.indexOf('expect:', at) + 7).replace(/--+>\s*$/, '');
  return [line.slice(0, at).trimEnd(), rules.split(',').map((rule) => rule.trim()).filter(Boolean)];
}

function cases(path, page) {
  const found = [];
  let fails = false;
  let name = '';
  let begun = false;
  let open = null;
  for (const line of page.split('\n')) {
    if (open) {
      if (line.trimEnd() === '```') {
        if (!begun) found.push({ page: path, name, fails, files: new Map() });
        begun = true;
        const split_lines = open.lines.map(split);
        found.at(-1).files.set(open.path, { text: split_lines.map(([text]) => `${text}\n`).join(''), rules: split_lines.flatMap(([, rules]) => rules) });
        open = null;
      } else {
        open.lines.push(line);
      }
    } else if (/^```(fail|pass)/.test(line)) {
      open = { path: line.slice(7).trim() || 'procedures/example.md', lines: [] };
    } else if (line.startsWith('### ')) {
      name = line.slice(4).trim();
      begun = false;
    } else if (line.startsWith('## ')) {
      fails = line.slice(3).trim() === 'Fails';
      begun = false;
    }
  }
  return found;
}

/** The examples of the rules' pages; each has `rule`. */
export function examples() {
  const pages = ['reading', 'flow', 'safety', 'words'].flatMap((group) => markdown(`src/rules/${group}`));
  return pages.flatMap(([path, page]) => cases(path, page).map((one) => ({ ...one, rule: path.split('/').at(-1).slice(0, -3).replaceAll('_', '-') })));
}

/** The cases of the suite. */
export function suite() {
  return markdown('tests/cases').flatMap(([path, page]) => cases(path, page));
}

/** The files of the small library that every example stands in. */
export const shared = new Map(
  ['library.yaml', 'safety.yaml', 'equipment.yaml', 'stop.md', 'procedures/isolate.md', 'procedures/restore-power.md']
    .filter((name) => existsSync(join(root, 'src/rules/example', name.split('/').at(-1))))
    .map((name) => [name, readFileSync(join(root, 'src/rules/example', name.split('/').at(-1)), 'utf8')]),
);
