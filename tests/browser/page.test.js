// SPDX-License-Identifier: MIT
// page.test.js COMMAND SOURCE FOLDER: the live page in headless Chromium, offline. Run by page.sh.
'use strict';
const fs = require('fs');
const path = require('path');
const { execFileSync, spawnSync } = require('child_process');
const { chromium } = require('playwright-core');
const [command, source, folder] = process.argv.slice(2);

const axeSource = fs.readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');
let failures = 0;
const check = (good, words) => { if (!good) { failures += 1; console.log(`FAILED: ${words}`); } };
const wait = (ms) => new Promise((done) => { setTimeout(done, ms); });
const deep = path.join(source, 'wells/brackwater-deep.xml');
const text = (page) => page.evaluate(() => document.getElementById('text').value);

// The content security policy forbids what waitForFunction does, so it is asked again and again.
async function until(page, question, words, argument) {
  for (let i = 0; i < 600; i += 1) {
    if (await page.evaluate(question, argument)) return true;
    await wait(50);
  }
  check(false, `never: ${words}`);
  return false;
}
const settled = (page, words) => until(page, () => document.documentElement.dataset.full === 'true'
  && !document.getElementById('program').classList.contains('stale'), words);
// A full plan after the one now shown.
async function replanned(page, act) {
  const before = await page.evaluate(() => { document.documentElement.dataset.full = 'false'; return document.documentElement.dataset.shown; });
  await act();
  await until(page, (was) => document.documentElement.dataset.full === 'true' && document.documentElement.dataset.shown !== was, 'a new plan', before);
}

async function open(browser, file, size = { width: 1280, height: 1000 }) {
  const context = await browser.newContext({ offline: true, viewport: size, acceptDownloads: true });
  const page = await context.newPage();
  page.on('request', (request) => check(/^(file|blob|data):/.test(request.url()), `asks for ${request.url()}`));
  page.on('console', (message) => check(false, `${path.basename(file)}: console: ${message.text()}`));
  page.on('pageerror', (error) => check(false, `${path.basename(file)}: ${error.message}`));
  page.on('dialog', async (dialog) => { check(false, `a dialog: ${dialog.message()}`); await dialog.dismiss(); });
  await page.goto(`file://${file}`);
  return page;
}
const centre = (page, key) => page.evaluate((k) => { const b = document.querySelector(`[data-key="${k}"] .dot`).getBoundingClientRect();
  return { x: b.x + b.width / 2, y: b.y + b.height / 2 }; }, key);
async function drag(page, key, by) {
  await page.evaluate(() => document.getElementById('plot').scrollIntoView());
  const from = await centre(page, key);
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  for (let i = 1; i <= 8; i += 1) { await page.mouse.move(from.x + by.x * i / 8, from.y + by.y * i / 8); await wait(30); }
  await page.mouse.up();
}
async function saved(page, what) {
  const [download] = await Promise.all([page.waitForEvent('download'), page.selectOption('#save', what)]);
  const to = path.join(folder, `saved-${what === 'page' ? 'page.html' : what === 'well' ? 'well.xml' : what}`);
  await download.saveAs(to);
  return to;
}

// Only one attribute's value may differ between two texts of a file.
function oneEdit(a, b) {
  let i = 0;
  while (i < a.length && a[i] === b[i]) i += 1;
  let k = 0;
  while (k < Math.min(a.length, b.length) - i && a[a.length - 1 - k] === b[b.length - 1 - k]) k += 1;
  return a.slice(i, a.length - k).length < 12 && b.slice(i, b.length - k).length < 12 && !/[<>"]/.test(b.slice(i, b.length - k));
}

async function editing(browser, file) {
  const begun = Date.now();
  const page = await open(browser, file);
  await until(page, () => Boolean(document.documentElement.dataset.shown), 'a first program');
  const first = Date.now() - begun;
  await settled(page, 'the first full plan');
  const original = fs.readFileSync(deep, 'utf8');
  check(await text(page) === original, 'the text in the page is not the file');
  await replanned(page, () => drag(page, 'fracture-3', { x: -14, y: 0 }));
  const dragged = await text(page);
  check(dragged !== original && oneEdit(original, dragged), 'a drag changes more than one attribute, or nothing');
  await replanned(page, () => page.click('#undo'));
  check(await text(page) === original, 'undo does not bring the text back');
  await replanned(page, () => page.click('#redo'));
  check(await text(page) === dragged, 'redo does not bring the change back');
  await replanned(page, () => page.click('#undo'));
  // a dragged seat is pinned
  await replanned(page, () => drag(page, 'seat-intermediate-1', { x: 0, y: 12 }));
  check(/<pinned>[\s\S]*role="intermediate" shoe="\d+ ft"/.test(await text(page)), 'a dragged seat is not pinned');
  check(await page.evaluate(() => /intermediate 1 \(pinned\)/.test(document.getElementById('table').textContent)), 'the table does not say pinned');
  await page.click('#unpin');
  check(!/shoe="/.test(await text(page)), 'a seat does not come free');
  await replanned(page, async () => { await page.click('#undo'); });
  // a state is kept, saved in a copy, and opened again
  await page.fill('#keep-name', 'seat <b>moved</b>');
  await page.click('#keep button');
  await replanned(page, async () => { await page.click('#undo'); });
  check(await text(page) === original, 'undo after a pin');
  await variants(page, original);
  await saving(browser, page, original);
  await typing(page);
  await settled(page, 'a plan after typing');
  await sizes(page);
  check((await page.pdf({ format: 'A4' })).length > 50000, 'print gives no report');
  await page.emulateMedia({ media: 'print' });
  check(await page.evaluate(() => getComputedStyle(document.getElementById('app')).display === 'none'
    && document.getElementById('printed').shadowRoot.textContent.includes('Brackwater')), 'print does not show the report');
  await page.emulateMedia({ media: 'screen' });
  await until(page, () => document.documentElement.dataset.compared === 'true' && document.querySelectorAll('#options-table tr').length > 2, 'options');
  for (const look of ['light', 'dark']) await accessible(page, look);
  await widths(page);
  const speed = await speeds(page);
  console.log(`first program ${first} ms; drag to painted median ${speed.median.toFixed(0)} ms, 95 of 100 within ${speed.most.toFixed(0)} ms; findings ${speed.findings.toFixed(0)} ms`);
  // loose multiples of the budgets in docs/live-page.md: machines of CI are shared
  check(first < 15000 && speed.median < 1000 && speed.findings < 1000, 'far over the budgets of docs/live-page.md');
  await page.context().close();
}

// Two states beside each other: in the words that the command has for two files of theirs.
async function variants(page, original) {
  await until(page, () => document.documentElement.dataset.variants === '2' && document.querySelectorAll('#beside img').length === 1 && !document.querySelector('#beside.stale'), 'two states side by side');
  const kept = await page.evaluate(() => JSON.parse(document.getElementById('meeting').textContent).wells.length);
  check(kept === 2, 'the page has lost a well');
  const now = path.join(folder, 'now.xml'), then = path.join(folder, 'then.xml');
  fs.writeFileSync(now, original);
  await replanned(page, () => page.click('#kept button'));
  fs.writeFileSync(then, await text(page));
  await replanned(page, async () => { await page.click('#undo'); });
  await until(page, () => document.documentElement.dataset.variants === '2' && !document.querySelector('#beside.stale'), 'the states beside each other again');
  const said = execFileSync(command, ['compare', now, then]).toString().replace(/\s+/g, ' ');
  const found = await page.evaluate(() => [...document.querySelectorAll('#beside .variant li')].map((e) => e.textContent));
  check(found.length > 2, `only ${found.length} differences of a moved shoe`);
  for (const words of found) check(said.includes(words.replace(/\s+/g, ' ')), `the command does not say: ${words}`);
  const count = execFileSync(command, ['compare', now, then]).toString().split('\n').filter((line) => /^ {2}\S/.test(line)).length;
  check(count === found.length, `the command says ${count} differences, the page ${found.length}`);
  check(await page.evaluate(() => /intermediate 1/.test(document.querySelector('#beside h4, #beside h4 ~ h4').parentNode.textContent) && /shoe/.test(document.getElementById('beside').textContent)), 'the difference of the seats is not said');
}

// Sizes and what people write for them.
async function sizes(page) {
  const before = await text(page);
  await page.focus('[data-key="seat-intermediate-2"]');
  await page.fill('#field-od', '10,75');
  await page.keyboard.press('Enter');
  check(await page.evaluate(() => /write a point: 10\.75/.test(document.getElementById('fields-say').textContent)), 'a decimal comma of a size is not asked about');
  await replanned(page, async () => { await page.fill('#field-od', '9 7/8"'); await page.keyboard.press('Enter'); });
  check(/<string role="intermediate" od="9.875 in"\/>/.test(await text(page)), `a size is not pinned: ${(await text(page)).slice(-400)}`);
  await replanned(page, async () => { await page.click('#undo'); });
  check(await text(page) === before, 'undo of a size');
}

async function saving(browser, page, original) {
  const well = await saved(page, 'well');
  check(fs.readFileSync(well, 'utf8') === original, 'the saved well file has other bytes');
  const json = await saved(page, 'program.json');
  check(fs.readFileSync(json).equals(execFileSync(command, ['plan', '--json', deep])), 'program.json of the page and of the command differ');
  const out = path.join(folder, 'planned');
  execFileSync(command, ['plan', deep, '-o', out], { stdio: 'ignore' });
  for (const drawing of ['schematic.svg', 'window.svg']) check(fs.readFileSync(await saved(page, drawing)).equals(fs.readFileSync(path.join(out, drawing))), `${drawing} of the page and of the command differ`);
  const report = fs.readFileSync(await saved(page, 'program.html'), 'utf8');
  const native = fs.readFileSync(path.join(out, 'program.html'), 'utf8');
  const pictures = (html) => html.match(/data:image\/svg\+xml;base64,[^"]*/g) || [];
  check(pictures(report).length === pictures(native).length - 1 && pictures(report).every((one) => native.includes(one)), "the saved report has other drawings than the command's, but for the graph of sizes");
  const copy = await saved(page, 'page');
  const again = await open(browser, copy);
  await settled(again, 'the saved page plans');
  check(await again.evaluate(() => document.getElementById('kept').textContent.includes('seat <b>moved</b>') && !document.querySelector('#kept b')), 'a variant is lost, or its name obeyed');
  await replanned(again, () => again.click('#kept button'));
  const variant = await saved(again, 'well');
  const made = await saved(again, 'program.json');
  check(fs.readFileSync(made).equals(execFileSync(command, ['plan', '--json', variant])), 'a variant of a saved page is planned otherwise by the command');
  await again.context().close();
}

async function typing(page) {
  const before = await text(page);
  await page.evaluate(() => { const t = document.getElementById('text'); t.focus(); t.setSelectionRange(0, 0); });
  await page.fill('#text', before.replace('value="9.0"', 'value="9.0x"'));
  await until(page, () => document.getElementById('findings').children.length > 0, 'findings');
  check(await page.evaluate(() => document.getElementById('program').classList.contains('stale')), 'a program of another text is not greyed');
  check(await page.evaluate(() => document.querySelector('#lines b').textContent === '!15'), 'the line of a finding is not marked');
  await replanned(page, () => page.fill('#text', before));
  // keyboard alone: a point by its arrow, then undo
  await page.focus('[data-key="pore-2"]');
  await replanned(page, () => page.keyboard.press('ArrowRight'));
  check(/value="11.95"/.test(await text(page)), 'the arrow key does not move a point');
  check(await page.evaluate(() => document.activeElement.dataset.key === 'pore-2'), 'focus is lost after a key');
  await page.fill('#field-x', '12,4 ppg');
  await page.keyboard.press('Enter');
  check(await page.evaluate(() => /write a point: 12\.4 ppg/.test(document.getElementById('fields-say').textContent)), 'a decimal comma is not asked about');
  await replanned(page, async () => { await page.fill('#field-x', '12.0ppg'); await page.keyboard.press('Enter'); });
  check(/depth="11000" value="12"/.test(await text(page)), 'a field does not set its point');
  await replanned(page, async () => { await page.keyboard.press('Control+z'); await page.keyboard.press('Control+z'); });
  check(await text(page) === before, 'keys do not undo');
}

async function accessible(page, look) {
  await page.emulateMedia({ colorScheme: look });
  await settled(page, 'settled');
  await until(page, () => !document.querySelector('.stale'), 'nothing stale');
  const session = await page.context().newCDPSession(page);
  await session.send('Runtime.evaluate', { expression: axeSource });
  const result = await session.send('Runtime.evaluate', { awaitPromise: true, returnByValue: true,
    expression: "axe.run({ runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'] }).then((r) => r.violations.map((v) => v.id + ': ' + v.nodes.slice(0, 3).map((n) => n.html.slice(0, 120)).join(' | ')))" });
  for (const words of result.result.value || ['axe did not run']) check(false, `axe, ${look}: ${words}`);
}

async function widths(page) {
  for (const width of [360, 768, 1280, 1920]) {
    await page.setViewportSize({ width, height: 1000 });
    const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
    check(over <= 0, `${over} px too wide at ${width} px`);
    for (const look of ['light', 'dark']) { await page.emulateMedia({ colorScheme: look }); await page.screenshot({ path: path.join(folder, `page-${width}-${look}.png`), fullPage: true }); }
  }
  await page.setViewportSize({ width: 1280, height: 1000 });
}

async function speeds(page) {
  await page.evaluate(() => { window.drawtubeTimings.length = 0; document.getElementById('plot').scrollIntoView(); });
  const from = await centre(page, 'fracture-3');
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  for (let i = 1; i <= 40; i += 1) { await page.mouse.move(from.x - 5 * (i % 8), from.y); await wait(120); }
  await page.mouse.up();
  const list = (await page.evaluate(() => window.drawtubeTimings.slice())).sort((a, b) => a - b);
  check(list.length > 5, `only ${list.length} programs while dragging`);
  await settled(page, 'after the drags');
  const findings = await page.evaluate(() => new Promise((done) => {
    const area = document.getElementById('text');
    const began = performance.now();
    new MutationObserver(() => done(performance.now() - began)).observe(document.getElementById('findings'), { childList: true });
    area.value = area.value.replace('<datum ', '<datun ');
    area.dispatchEvent(new Event('input', { bubbles: true }));
  }));
  return { median: list[Math.floor(list.length / 2)] || 1e9, most: list[Math.floor(list.length * 0.95)] || 1e9, findings };
}

// Hostile wells: nothing of theirs is obeyed, and the page says what is wrong.
async function hostile(browser) {
  const evil = path.join(folder, 'evil"><img src=x onerror=alert(1)>.xml');
  fs.writeFileSync(evil, fs.readFileSync(deep, 'utf8').replace('Brackwater Deep 2 (invented)', '&lt;/script>&lt;script>alert(1)&lt;/script>&lt;img src=x onerror=alert(2)>')
    .replace('name="Sallow shale"', 'name="&lt;svg onload=alert(3)>"'));
  const files = [evil, ...['tests/hostile', 'tests/refused'].flatMap((dir) => fs.readdirSync(path.join(source, dir)).filter((f) => f.endsWith('.xml'))
    .map((f) => path.join(source, dir, f))).filter((f) => fs.statSync(f).size < 20000).slice(0, 40)];
  const file = path.join(folder, 'hostile.html');
  execFileSync(command, ['page', ...files, '-o', file]);
  const page = await open(browser, file);
  for (let i = 0; i < files.length; i += 1) {
    const before = await page.evaluate(() => document.documentElement.dataset.shown);
    if (i > 0) {
      await page.selectOption('#well', String(i));
      await until(page, (was) => document.documentElement.dataset.shown !== was, `an answer to ${files[i]}`, before);
    } else await until(page, () => Boolean(document.documentElement.dataset.shown), 'an answer');
    const strange = await page.evaluate(() => document.querySelectorAll('#app script, img[onerror], #app svg[onload], iframe').length);
    check(strange === 0, `${files[i]}: its words became elements`);
  }
  await page.context().close();
}

// A basis and a list of bits of one's own go along, also into a saved copy.
async function onBasis(browser) {
  const own = path.join(folder, 'ours.xml'), file = path.join(folder, 'basis.html');
  const well = path.join(source, 'wells/alder-reach.xml');
  fs.copyFileSync(path.join(source, 'planner/well/basis/texas.xml'), own);
  const bits = path.join(folder, 'our-bits.csv');
  fs.writeFileSync(bits, 'diameter_in\n6\n8.75\n12.25\n17.5\n26\n');
  execFileSync(command, ['page', well, '--basis', own, '--bits', bits, '-o', file]);
  let page = await open(browser, file);
  await settled(page, 'a program over a basis');
  check(await page.evaluate(() => /ours\.xml, with the bits of our-bits\.csv/.test(document.getElementById('bases').textContent)), 'the page does not name its basis and bits');
  const copy = await saved(page, 'page');
  await page.context().close();
  page = await open(browser, copy);
  await settled(page, 'a program over a basis, in a saved copy');
  check(fs.readFileSync(await saved(page, 'program.json')).equals(execFileSync(command, ['plan', '--json', well, '--basis', own, '--bits', bits])), 'the page plans otherwise over a basis and with bits of its own than the command');
  await page.context().close();
  check(spawnSync(command, ['page', well, '--basis', path.join(folder, 'absent.xml'), '-o', path.join(folder, 'never.html')]).status !== 0
    && !fs.existsSync(path.join(folder, 'never.html')), 'a basis that cannot be read leaves a page');
  fs.writeFileSync(bits, 'diameter_in\nwide\n');
  check(spawnSync(command, ['page', well, '--bits', bits, '-o', path.join(folder, 'never.html')]).status !== 0
    && !fs.existsSync(path.join(folder, 'never.html')), 'bits that are refused leave a page');
}

(async () => {
  fs.mkdirSync(folder, { recursive: true });
  const file = path.join(folder, 'meeting.html');
  execFileSync(command, ['page', deep, path.join(source, 'wells/mizzenlow-shelf.xml'), '-o', file]);
  check(fs.statSync(file).size <= 900 * 1024, `the page has ${fs.statSync(file).size} bytes`);
  check(spawnSync(command, ['page', path.join(folder, 'absent.xml'), '-o', path.join(folder, 'never.html')]).status === 3
    && !fs.existsSync(path.join(folder, 'never.html')), 'a well that cannot be read leaves a page');
  check(execFileSync(command, ['page', path.join(source, 'wells/hollinfold.xml')], { maxBuffer: 1 << 24 }).includes('"units":1}'), 'a metric well is not shown in metric units');
  check(execFileSync(command, ['page', deep, '--units', 'mixed'], { maxBuffer: 1 << 24 }).includes('"units":2}'), 'a page is not shown in the units asked for');
  const browser = await chromium.launch({ executablePath: process.env.CHROMIUM || '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'] });
  try {
    await editing(browser, file);
    await onBasis(browser);
    await hostile(browser);
  } finally { await browser.close(); }
  console.log(failures ? `${failures} failures` : 'the live page does what it should');
  process.exit(failures ? 1 : 0);
})();
