// Signs and signal words as pages show them, against published tables: ANSI Z535.6 (injury or property, order, alert symbol; the DITA 2.0 draft restates
// it), ISO 7010 (what a code's letter means for the shape: public code lists; shares of colour from memory), ISO 3864-1.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { folder, libraryOf, stepward, write } from './support/library.mjs';

// Word: about injury or not, and whether the safety alert symbol stands with it (ANSI Z535.6).
const WORDS = { danger: true, warning: true, caution: true, notice: false };
// Letter of the code to the shape that carries it (ISO 7010).
const SHAPES = {
  W: { has: [/<path class="sign__yellow" d="M50 9 95 89H5Z"/, /sign__rim/], hasNot: [/sign__blue"/, /sign__bar/, /<circle class="sign__white" cx="50" cy="50"/] },
  M: { has: [/<circle class="sign__blue" cx="50" cy="50" r="47"/], hasNot: [/sign__yellow/, /sign__bar/, /sign__rim/] },
  P: { has: [/<circle class="sign__white" cx="50" cy="50" r="47"/, /<circle class="sign__bar"/, /<path class="sign__bar" d="M20 20 80 80"/], hasNot: [/sign__yellow/, /sign__blue"/] },
};
// Codes of ISO 7010 with a word of each referent, from public code lists (ASR A1.3 annex 1 among them); English words in part from memory.
const REGISTER = {
  M001: 'mandatory', M002: 'manual', M004: 'eye', M005: 'earth', M006: 'mains plug', M009: 'gloves', M011: 'hands', M016: 'mask', M017: 'respiratory',
  M021: 'before maintenance', M027: 'guard', M028: 'locked', M032: 'footwear', P003: 'flame', P007: 'cardiac', P010: 'not touch', P011: 'water',
  P012: 'heavy', P015: 'reach', P022: 'drinking', P031: 'switch', W001: 'general', W004: 'laser', W005: 'radiation', W006: 'magnetic',
  W011: 'slippery', W012: 'electricity', W017: 'hot', W018: 'start', W019: 'crushing', W022: 'sharp', W024: 'hands', W025: 'rollers', W026: 'battery', W027: 'optical',
};
const CODES = Object.keys(REGISTER);

const id = (word, code) => `${word}-${code.toLowerCase()}`;

function catalogue(hazards) {
  return `hazards:\n${hazards.map(([word, code]) => `  ${id(word, code)}:
    name: Hazard ${word} ${code}
    kind: demo
    place: nowhere
    signal-word: ${word}
${code ? `    sign: ${code}\n` : ''}    nature: It is there.
    consequence: It hurts.
    avoid: Keep away.
    spoken: Keep away.
${WORDS[word] ? '    least: ordinary\n    no-control-because: it is an example\n' : ''}`).join('')}`;
}

function procedure(hazards) {
  return `---\ntitle: Look\nsummary: Shows every sign.\nkind: task\nfor: ordinary\nstatus: draft\nowner: safety\nsteps:
  look:\n    do: Look at the signs\n    cautions: [${hazards.map(([word, code]) => id(word, code)).join(', ')}]\n    outcome: done\n---\n\nWords.\n\n## Look {#look}\n\nLook.\n`;
}

/** Of each caution on the page the first block: hazard to markup. */
function blocks(page) {
  const found = new Map();
  for (const part of page.split('<div class="caution caution--').slice(1)) {
    const [, word, hazard] = /^([a-z]+)" data-hazard="([^"]*)"/.exec(part);
    if (!found.has(hazard)) found.set(hazard, { word, markup: part });
  }
  return found;
}

test('every sign has the shape of its letter and its name, every signal word its panel', (context) => {
  const place = folder(context);
  const library = join(place, 'library');
  const hazards = CODES.flatMap((code) => Object.keys(WORDS).map((word) => [word, code]));
  libraryOf(library, []);
  write(join(library, 'procedures', 'isolate.md'), procedure(hazards));
  write(join(library, 'procedures', 'toner-rubs-off.md'), procedure(hazards.slice(0, 1)));
  write(join(library, 'safety.yaml'), catalogue(hazards));
  const run = stepward(['publish', '--library', library, '--to', join(place, 'site'), '--unreleased']);
  assert.equal(run.status, 0, run.out + run.err);
  const page = readFileSync(join(place, 'site', 'procedures', 'isolate.html'), 'utf8');
  const found = blocks(page);
  for (const [word, code] of hazards) {
    const { word: shown, markup } = found.get(id(word, code)) ?? assert.fail(`no block for ${word} ${code}`);
    assert.equal(shown, word);
    const [panel, body] = markup.split('<div class="caution__body">');
    assert.ok(panel.includes(`${word.toUpperCase()}</strong>`), `${word} is written in capitals`);
    assert.equal(panel.includes('caution__alert'), WORDS[word], `alert symbol with ${word}`);
    const [, sign, label] = /<svg class="sign"([^>]*aria-label="([^"]*)"[^]*?<\/svg>)/.exec(body);
    assert.ok(label.startsWith(`${code}: `) && label.toLowerCase().includes(REGISTER[code]), label);
    for (const part of SHAPES[code[0]].has) assert.match(sign, part, code);
    for (const part of SHAPES[code[0]].hasNot) assert.doesNotMatch(sign, part, code);
    assert.equal((body.split('</svg>')[0] ?? '').includes('caution__avoid'), code[0] !== 'W', `${code} stands with what it belongs to`);
  }
  // The words come in order of severity, and every alert symbol belongs to a word about injury.
  const wordsShown = page.split('id="step-look"')[1];
  const order = [...wordsShown.matchAll(/caution caution--([a-z]+)/g)].map(([, word]) => Object.keys(WORDS).indexOf(word));
  assert.ok(order.length >= hazards.length);
  assert.ok(order.every((rank, index) => index === 0 || order[index - 1] <= rank), 'most severe first');
});

test('a word that is not one of the four is refused at its hazard', (context) => {
  const place = folder(context);
  for (const word of ['attention', 'important', 'note', 'DANGER', 'warning!']) {
    const library = join(place, word);
    libraryOf(library, []);
    write(join(library, 'safety.yaml'), catalogue([[word, 'W017']]));
    const run = stepward(['verify', '--library', library, '--format', 'json']);
    assert.equal(run.status, 1);
    const said = JSON.parse(run.out).findings.filter(({ file, message }) => file === 'safety.yaml' && message.includes(word));
    assert.ok(said.some(({ severity, line }) => severity === 'error' && line === 2), `${word}: ${run.out}`);
  }
});
