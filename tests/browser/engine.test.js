// SPDX-License-Identifier: MIT
// engine.test.js ENGINE COMMAND SELFCHECK SOURCE FOLDER [COUNT]: the engine of the live page against the native command.
// Shipped wells: the same bytes. Random wells (docs/selfcheck.md): the same texts, numbers within 1e-9. Refused
// files: the same messages. Run by engine.sh.
'use strict';
const fs = require('fs');
const path = require('path');
const { spawnSync } = require('child_process');
const [engineFile, command, selfcheck, source, folder, count] = process.argv.slice(2);
const { makeEngine } = require(path.join(source, 'render/page/engine.js'));

const module_ = new WebAssembly.Module(fs.readFileSync(engineFile));
let failures = 0;
const check = (good, words) => { if (!good) { failures += 1; console.log(`FAILED: ${words}`); } };
const run = (...args) => spawnSync(command, args, { maxBuffer: 1 << 28 });

// ---- shipped wells: every file that both make, byte for byte ----
function planFiles(engine, metric) {
  const files = { 'window.svg': ['window'], 'course.svg': ['course'], 'program.json': ['json'],
    'schematic.svg': ['schematic', 0], 'schematic-column.svg': ['schematic', 1], 'schematic-thumbnail.svg': ['schematic', 2] };
  for (let i = 0; i < 12; i += 1) {
    files[`strength-${i + 1}.svg`] = ['strength', i];
    files[`string-${i + 1}.svg`] = ['sheet', i];
  }
  return Object.entries(files).map(([name, [output, index]]) => [name, engine.make(output, index, metric)]);
}

function sameFiles(made, from, name) {
  let same = 0;
  for (const [file, bytes] of made) {
    const there = path.join(from, file);
    const exists = fs.existsSync(there);
    check(exists === (bytes !== null), `${name}: ${file} is made by one of the two only`);
    if (!exists || !bytes) continue;
    const equal = Buffer.compare(fs.readFileSync(there), Buffer.from(bytes)) === 0;
    check(equal, `${name}: ${file} differs from the command's`);
    same += equal ? 1 : 0;
  }
  return same;
}

function shippedWell(file) {
  const name = path.basename(file, '.xml');
  const text = fs.readFileSync(file);
  let same = 0;
  for (const metric of [false, true]) {
    const units = metric ? 'metric' : 'field';
    const out = path.join(folder, `${name}-${units}`);
    const planned = run('plan', file, '-o', out, '--units', units);
    const compared = run('compare', file, '-o', `${out}-compare`, '--units', units);
    const engine = makeEngine(module_);
    check(engine.check(text, file) === 'ok', `${name}: is not read`);
    const status = engine.plan();
    check((planned.status === 0 || planned.status === 1) && (status === 'ok' || status === 'none'), `${name}: ${status}`);
    same += sameFiles(planFiles(engine, metric), out, name);
    const found = engine.compare();
    check((found === 'ok') === (compared.status === 0), `${name}: compare: ${found}, the command ends with ${compared.status}`);
    same += sameFiles([['compare.html', engine.make('comparisonPage', 0, metric)],
      ['compare.svg', engine.make('comparisonDrawing', 0, metric)], ['options.json', engine.make('comparisonJson', 0, metric)]],
    `${out}-compare`, name);
  }
  return same;
}

// ---- two wells held against each other: the command's drawing, and its words ----
function besideEachOther(first, second) {
  const out = path.join(folder, 'beside');
  const said = run('compare', first, second, '-o', out).stdout.toString().replace(/\s+/g, ' ');
  const engine = makeEngine(module_);
  for (const [file, name] of [[first, 'First'], [second, 'Second']]) {
    engine.check(fs.readFileSync(file), file);
    engine.plan();
    check(engine.setAside(name) === 'ok', `${file}: is not set aside`);
  }
  const drawing = engine.make('changesDrawing');
  check(drawing !== null && fs.readFileSync(path.join(out, 'changes.svg')).equals(Buffer.from(drawing)), `${second}: changes.svg differs from the command's`);
  const lines = new TextDecoder().decode(engine.make('changes', 1)).split('\n').filter(Boolean);
  check(lines.length > 5, `${second}: only ${lines.length} differences`);
  for (const line of lines) check(said.includes(line.split('\t')[2].replace(/\s+/g, ' ')), `the command does not say: ${line}`);
  engine.clearSides();
  check(engine.make('changes', 1) === null, 'sides are not cleared');
}

// ---- bases over what a well names: a file of one's own, and one of ours by its name ----
function onBases(well) {
  const own = path.join(folder, 'ours.xml');
  fs.writeFileSync(own, fs.readFileSync(path.join(source, 'planner/well/basis/texas.xml')));
  const plain = run('plan', '--json', well).stdout;
  for (const [word, text] of [[own, fs.readFileSync(own)], ['us-onshore', null]]) {
    const engine = makeEngine(module_);
    check(engine.stack(path.basename(word), text) === 'ok', `${word}: is not stacked`);
    engine.check(fs.readFileSync(well), well);
    engine.plan();
    const native = run('plan', '--json', '--basis', word, well).stdout;
    check(native.equals(Buffer.from(engine.make('json') || '')), `${word}: another program over this basis than the command's`);
    check(!native.equals(plain), `${word}: changes nothing`);
  }
  const engine = makeEngine(module_);
  check(engine.stack('nowhere', null) === 'refused' && engine.stack('bad.xml', Buffer.from('<basis/>')) === 'refused', 'a bad basis is stacked');
}

// ---- lists of one's own over the catalogue: the program that the command has with --pipe, --bits and --stock ----
function onLists(well) {
  const lists = {
    pipe: 'od_in,weight_lbft,wall_in,drift_in,special_drift_in,coupling_od_in,clearance_coupling_od_in,threads,grades\n13.375,54.5,0.38,12.459,,14.375,,BTC,J55\n',
    bits: 'diameter_in\n6\n8.75\n12.25\n17.5\n26\n',
    stock: 'od_in,weight_lbft,grade\n30,,\n20,,\n13.375,,\n9.625,,N80\n9.625,,P110\n7,,\n',
  };
  const plain = run('plan', '--json', well).stdout;
  let changed = 0;
  for (const kind of Object.keys(lists)) {
    const file = path.join(folder, `own-${kind}.csv`);
    fs.writeFileSync(file, lists[kind]);
    const native = run('plan', '--json', `--${kind}`, file, well);
    const engine = makeEngine(module_);
    check(engine.list(kind, path.basename(file), Buffer.from(lists[kind])) === 'ok', `${kind}: the list is not taken: ${native.stderr}`);
    engine.check(fs.readFileSync(well), well);
    engine.plan();
    check(native.stdout.equals(Buffer.from(engine.make('json') || '')), `${kind}: another program with this list than the command's`);
    check(engine.list(kind, 'late.csv', Buffer.from(lists[kind])) === 'domain', `${kind}: a list is taken under a program`);
    changed += native.stdout.equals(plain) ? 0 : 1;
  }
  check(changed === 3, `only ${changed} of the lists change the program`);
  const engine = makeEngine(module_);
  check(engine.list('bits', 'bad.csv', Buffer.from('width\n8.5\n')) === 'refused' && engine.list('pen', 'bad.csv', Buffer.from('')) === 'domain', 'a bad list is taken');
}

// ---- random wells: texts, counts, codes equal; numbers within 1e-9 ----
function differs(a, b, at) {
  if (typeof a === 'number' && typeof b === 'number') {
    if (Number.isInteger(a) && Number.isInteger(b)) return a === b ? null : `${at}: ${a} and ${b}`;
    return Math.abs(a - b) <= 1e-9 * Math.max(1, Math.abs(a)) ? null : `${at}: ${a} and ${b}`;
  }
  if (a === null || b === null || typeof a !== 'object' || typeof b !== 'object') return a === b ? null : `${at}: ${a} and ${b}`;
  const keys = Object.keys(a);
  if (keys.join() !== Object.keys(b).join()) return `${at}: keys differ`;
  for (const key of keys) {
    const found = differs(a[key], b[key], `${at}.${key}`);
    if (found) return found;
  }
  return null;
}

function randomWells() {
  const bad = [];
  let programs = 0;
  for (let k = 0; k < Number(count || 0); k += 1) {
    const well = spawnSync(selfcheck, ['--print', '--seed', '19', '--first', String(k)]).stdout;
    const file = path.join(folder, 'random.xml');
    fs.writeFileSync(file, well);
    const native = run('plan', '--json', file);
    const engine = makeEngine(module_);
    const read = engine.check(well, file);
    const status = read === 'ok' ? engine.plan() : read;
    const has = native.stdout.length > 0;
    if (has !== (status === 'ok')) { bad.push(`${k}: ${status}, the command ends with ${native.status}`); continue; }
    if (!has) {
      const words = new TextDecoder().decode(engine.make('refusal') || new Uint8Array());
      if (!native.stderr.toString().includes(words)) bad.push(`${k}: another refusal`);
      continue;
    }
    programs += 1;
    const found = differs(JSON.parse(native.stdout), JSON.parse(new TextDecoder().decode(engine.make('json'))), 'program');
    if (found) bad.push(`${k}: ${found}`);
  }
  for (const words of bad) check(false, `random well ${words}`);
  check(programs >= Number(count || 0) / 4, `only ${programs} random wells have a program`);
  return programs;
}

// ---- refused files: the same messages ----
function refusedFiles() {
  let files = 0;
  for (const name of fs.readdirSync(path.join(source, 'tests/refused')).filter((f) => f.endsWith('.xml'))) {
    const file = path.join(source, 'tests/refused', name);
    const native = run('check', file).stderr.toString().split('\n').filter((line) => / DT-\d+: /.test(line)).slice(0, 500);
    const engine = makeEngine(module_);
    engine.check(fs.readFileSync(file), file);
    const findings = new TextDecoder().decode(engine.make('findings') || new Uint8Array()).split('\n')
      .filter(Boolean).map((line) => line.split('\t').slice(3).join('\t')).slice(0, 500);
    check(native.join('\n') === findings.join('\n'),
      `${name}: messages differ: ${native[0]} / ${findings[0]}`);
    files += 1;
  }
  check(files > 50, `only ${files} refused files`);
  return files;
}

fs.mkdirSync(folder, { recursive: true });
const wells = fs.readdirSync(path.join(source, 'wells')).filter((f) => f.endsWith('.xml'));
const same = wells.reduce((sum, file) => sum + shippedWell(path.join(source, 'wells', file)), 0);
onBases(path.join(source, 'wells/alder-reach.xml'));
onLists(path.join(source, 'wells/alder-reach.xml'));
besideEachOther(path.join(source, 'wells/alder-reach.xml'), path.join(source, 'wells/thornback-rise.xml'));
besideEachOther(path.join(source, 'wells/brackwater-deep.xml'), path.join(source, 'wells/mizzenlow-shelf.xml'));
check(same > 100, `only ${same} files compared`);
console.log(`${same} files of ${wells.length} wells with the same bytes`);
console.log(`${refusedFiles()} refused files`);
console.log(`${randomWells()} random wells with a program`);
console.log(failures ? `${failures} failures` : 'the engine agrees with the command');
process.exit(failures ? 1 : 0);
