// The 652 examples of CommonMark 0.31.2 (npm `commonmark-spec`, its `spec.txt`) through our Markdown path as published: one leaflet an example.
// The text of the examples is read from the package and never copied here: its licence is not ours.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { test } from 'node:test';
import { folder, libraryOf, stepward } from './support/library.mjs';
import { pieces } from './support/markup.mjs';

// A floor, so that no example slips from the compared to the refused ones unseen.
const COMPARED = 462;
const LED = 62;
// A word before the example: a leaflet's first heading of level 1 is its title, and that is not what is tried here.
const BEFORE = '---\ntitle: Example\n---\nFirst.\n\n';
const LINES_BEFORE = BEFORE.split('\n').length - 1;
const REFUSALS = ['link-broken', 'picture-missing', 'picture-without-words', 'raw-html'];

const require = createRequire(import.meta.url);
const spec = readFileSync(join(require.resolve('commonmark-spec'), '..', 'spec.txt'), 'utf8');
const examples = [...spec.matchAll(/^`{32} example\n([^]*?)^\.\n([^]*?)^`{32}$/gm)].map(([, markdown, html], index) => ({
  id: `example-${index + 1}`,
  markdown: markdown.replaceAll('→', '\t'),
  html: html.replaceAll('→', '\t'),
}));

/** A tag of the expected output that the example's own text holds word for word, or that no Markdown gives, is raw HTML. */
function rawTags({ markdown, html }) {
  const given = /^<(?:\/?(?:p|h[1-6]|em|strong|code|pre|ul|ol|li|blockquote)|hr \/|br \/|\/a|ol start="\d+"|code class="language-[^"]*"|a href="[^"]*"(?: title="[^"]*")?|img src="[^"]*" alt="[^"]*"(?: title="[^"]*")? \/)>$/;
  return [...html.matchAll(/<[^>]*>?/g)].map(([tag]) => tag).filter((tag) => !given.test(tag) || (!tag.startsWith('</') && markdown.includes(tag)));
}

const addresses = ({ html }) => [...html.matchAll(/<(?:a href|img src)="([^"]*)"/g)].map(([, address]) => address);
const scheme = (address) => /^([a-z][a-z0-9+.-]*):/i.exec(address)?.[1].toLowerCase();
const allowed = (address) => ['https', 'http', 'mailto', 'tel'].includes(scheme(address));

/** The author's levels 1 and 2 come directly under the page's title, deeper ones keep their distance but skip none. */
function asOurs() {
  let last = 1;
  return (name, attributes) => {
    if (name === 'a') delete attributes.title;
    const level = /^h([1-6])$/.exec(name)?.[1];
    if (!level) return name;
    last = Math.max(2, Math.min(Number(level), last + 1));
    return `h${last}`;
  };
}

function prose(page) {
  const [, inside] = /<article class="card prose">\s*<h1>Example<\/h1>\s*<p>First\.<\/p>\n?([^]*?)<\/article>/.exec(page) ?? [];
  assert.notEqual(inside, undefined, 'the page holds the prose where its template puts it');
  return pieces(inside);
}

/** Publishes these examples and compares the prose of each page with what the specification expects. */
function compare(place, name, chosen) {
  const library = join(place, name);
  const site = join(place, `${name}-site`);
  libraryOf(library, chosen.map(({ id, markdown }) => [id, BEFORE + markdown]));
  const published = stepward(['publish', '--library', library, '--to', site, '--unreleased']);
  assert.equal(published.status, 0, published.out + published.err);
  const differ = chosen.flatMap((example) => {
    const ours = JSON.stringify(prose(readFileSync(join(site, 'leaflets', `${example.id}.html`), 'utf8')));
    const theirs = JSON.stringify(pieces(example.html, asOurs()));
    return ours === theirs ? [] : [`${example.id}: ${JSON.stringify(example.markdown)}\n  published ${ours}\n  expected  ${theirs}`];
  });
  assert.deepEqual(differ, []);
}

test('the examples of CommonMark are published as the specification says, or refused for a reason', { timeout: 300_000 }, (context) => {
  assert.equal(examples.length, 652);
  const place = folder(context);
  const everything = join(place, 'everything');
  libraryOf(everything, examples.map(({ id, markdown }) => [id, BEFORE + markdown]));
  const verified = stepward(['verify', '--library', everything, '--format', 'json']);
  assert.equal(verified.status, 1, verified.err);
  const said = new Map(examples.map(({ id }) => [id, []]));
  for (const finding of JSON.parse(verified.out).findings) said.get(/^leaflets\/(.*)\.md$/.exec(finding.file)?.[1]).push(finding);

  const refused = { 'raw HTML': 0, 'unsafe address': 0, 'nothing at its end': 0, 'picture without words': 0 };
  const clean = [];
  for (const example of examples) {
    // Warnings and notes keep nothing from being published.
    const findings = said.get(example.id).filter(({ severity }) => severity === 'error');
    const rules = new Set(findings.map(({ rule }) => rule));
    for (const rule of rules) assert.ok(REFUSALS.includes(rule), `${example.id}: ${rule}`);
    const raw = rawTags(example);
    const unsafe = addresses(example).filter((address) => scheme(address) && !allowed(address));
    const nowhere = addresses(example).filter((address) => !scheme(address));
    assert.equal(rules.has('raw-html'), raw.length > 0 || unsafe.length > 0, `${example.id}: raw ${raw}, unsafe ${unsafe}`);
    if (raw.length > 0) {
      refused['raw HTML'] += 1;
      const lines = findings.filter(({ rule, subject }) => rule === 'raw-html' && subject === null).map(({ line }) => line - LINES_BEFORE);
      const first = example.markdown.split('\n').findIndex((line) => line.includes(raw[0].split('\n')[0])) + 1;
      assert.ok(first > 0 && lines.includes(first), `${example.id}: \`${raw[0]}\` on line ${first}, found on ${lines}`);
    } else if (unsafe.length > 0) {
      refused['unsafe address'] += 1;
      assert.equal(findings.filter(({ rule, subject }) => rule === 'raw-html' && subject !== null).length, unsafe.length, example.id);
    } else if (rules.size > 0) {
      assert.ok(nowhere.length > 0 || rules.has('picture-without-words'), `${example.id}: ${[...rules]}`);
      refused[nowhere.length > 0 ? 'nothing at its end' : 'picture without words'] += 1;
    } else {
      assert.deepEqual(nowhere.filter((address) => address !== ''), [], example.id);
      clean.push(example);
    }
  }

  compare(place, 'good', clean);
  assert.ok(clean.length >= COMPARED, `only ${clean.length} examples are compared`);
  context.diagnostic(`${clean.length} compared; refused: ${JSON.stringify(refused)}`);
});

// The links of most examples lead to `/url` and the like, which our rules refuse: no such page. With a host before it the example says the same.
test('links that lead nowhere in a library are set as the specification says once they lead to a host', { timeout: 300_000 }, (context) => {
  const place = folder(context);
  const led = examples.flatMap(({ id, markdown, html }) => {
    const local = [...new Set([...html.matchAll(/<a href="(\/[a-z0-9]+)"/g)].map(([, address]) => address))];
    const others = addresses({ html }).filter((address) => !allowed(address) && !local.includes(address));
    if (local.length === 0 || others.length > 0 || html.includes('<img') || rawTags({ markdown, html }).length > 0) return [];
    const host = (text) => local.reduce((now, address) => now.replace(new RegExp(`(?<![a-z<.])${address}(?![a-z0-9])`, 'g'), `https://a.example${address}`), text);
    return [{ id, markdown: host(markdown), html: host(html) }];
  });
  compare(place, 'led', led);
  assert.ok(led.length >= LED, `only ${led.length} examples are compared`);
  context.diagnostic(`${led.length} more compared with a host before their addresses`);
});
