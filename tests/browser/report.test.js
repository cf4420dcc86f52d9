// SPDX-License-Identifier: MIT
// report.test.js FOLDER: every FOLDER/*/program.html in headless Chromium.
// Checks: valid HTML, no overflow at three widths and at 200 % zoom, what is printed on A4 and
// Letter, no console message, no request but the page itself, and the rules of axe-core (WCAG
// 2.2 A and AA). Run by run.sh.
'use strict';
const fs = require('fs');
const path = require('path');
const { chromium } = require('playwright-core');
const { HtmlValidate } = require('html-validate');

const axeSource = fs.readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');
let failures = 0;
const check = (good, words) => { if (!good) { failures += 1; console.log(`FAILED: ${words}`); } };

// The page is XML as well as HTML, so void elements close themselves; what a section needs to be
// told apart is its heading. Everything else is html-validate's recommended set.
const validator = new HtmlValidate({
  extends: ['html-validate:recommended'],
  rules: { 'void-style': ['error', { style: 'selfclose' }], 'long-title': 'off', 'require-sri': 'off' },
});

// 320 px: the narrowest of WCAG 2.2, 1.4.10. 640 px at 1280: the same as a zoom of 200 %.
const widths = [320, 640, 1280];

async function checkWidths(page, name) {
  for (const width of widths) {
    await page.setViewportSize({ width, height: 900 });
    const found = await page.evaluate(() => {
      const root = document.documentElement;
      const wide = [...document.querySelectorAll('body *')].filter((e) => {
        if (e.closest('.scroll') && !e.matches('.scroll')) return false; // tables scroll in their own box
        const box = e.getBoundingClientRect();
        return box.width > 0 && (box.right > root.clientWidth + 1 || box.left < -1);
      });
      const small = [...document.querySelectorAll('p, td, th, dd, li, figcaption')]
        .filter((e) => parseFloat(getComputedStyle(e).fontSize) < 12);
      return { overflow: root.scrollWidth - root.clientWidth, wide: wide.map((e) => e.tagName + '.' + e.className),
        small: small.length };
    });
    check(found.overflow <= 0, `${name}: ${found.overflow} px too wide at ${width} px`);
    check(found.wide.length === 0, `${name}: reach out of the page at ${width} px: ${found.wide.slice(0, 5)}`);
    check(found.small === 0, `${name}: ${found.small} texts under 12 px at ${width} px`);
  }
}

// Pages in a PDF: the page objects of its page tree.
const pagesOf = (pdf) => (pdf.toString('latin1').match(/\/Type\s*\/Page\b(?!s)/g) || []).length;

// What the reader is handed before the appendix: 4 pages, and one a string. The sheets of the strings fill an A4
// page to its edges, so the report states its paper; on Letter only its number of pages is looked at.
async function checkPrint(page, name) {
  const count = {};
  const strings = await page.locator('#sheets .sheet').count();
  const courses = await page.locator('#course').count();
  const offsets = await page.locator('caption', { hasText: /offset well/i }).count();
  check(strings >= 2, `${name}: ${strings} sheets of strings`);
  for (const format of ['A4', 'Letter']) {
    count[format] = pagesOf(await page.pdf({ format, preferCSSPageSize: format === 'A4' }));
    // Each string has its sheet, its reasons, strength and jobs; all options take three, the tables of where values
    // came from eight, the course of a hole that is not vertical one, offset wells with their points five.
    const most = 17 + 5 * strings + courses + (offsets > 0 ? 5 : 0);
    check(count[format] >= 4 + strings && count[format] <= most, `${name}: ${count[format]} pages on ${format}`);
  }
  const hidden = await page.addStyleTag({ content: '.appendix, .appendix ~ section { display: none; }' });
  count.body = pagesOf(await page.pdf({ preferCSSPageSize: true }));
  check(count.body <= 4 + strings, `${name}: ${count.body} pages before the appendix, ${strings} of them sheets`);
  await hidden.evaluate((e) => e.remove());
  await page.emulateMedia({ media: 'print' });
  // What does not fit across the paper would be cut: 210 mm less 2 x 15 mm at 96 px an inch.
  await page.setViewportSize({ width: 680, height: 1000 });
  const found = await page.evaluate(() => {
    const wide = [...document.querySelectorAll('table, img')]
      .filter((e) => !e.closest('.sheet') && e.getBoundingClientRect().right > document.documentElement.clientWidth + 1)
      .map((e) => (e.caption ? e.caption.textContent : e.alt.slice(0, 30)));
    const small = [...document.querySelectorAll('main *')].filter((e) => e.checkVisibility() &&
      [...e.childNodes].some((c) => c.nodeType === Node.TEXT_NODE && c.textContent.trim()) &&
      parseFloat(getComputedStyle(e).fontSize) < 8 / 0.75 - 0.01).map((e) => e.outerHTML.slice(0, 60));
    const scrolls = [...document.querySelectorAll('main *')].filter((e) => /auto|scroll/.test(getComputedStyle(e).overflowX)).length;
    const cover = document.querySelector('.cover');
    const bottom = cover.getBoundingClientRect().bottom;
    const over = [...cover.querySelectorAll('p, li, td, img')].filter((e) => e.checkVisibility() && e.getBoundingClientRect().bottom > bottom + 1).length;
    const schematic = cover.querySelector('img').getBoundingClientRect();
    return { wide, small, scrolls, over, schematic: schematic.height,
      headers: getComputedStyle(document.querySelector('thead')).display };
  });
  check(found.wide.length === 0, `${name}: cut off in print: ${found.wide}`);
  check(found.small.length === 0, `${name}: ${found.small.length} texts under 8 pt in print: ${found.small.slice(0, 3)}`);
  check(found.scrolls === 0, `${name}: ${found.scrolls} scroll in print`);
  check(found.over === 0, `${name}: ${found.over} reach below the first page`);
  const mm = 96 / 25.4;
  check(found.schematic > 90 * mm, `${name}: the schematic of the first page is ${Math.round(found.schematic / mm)} mm high`);
  // A sheet has a page of its own with narrow margins: 210 mm less 2 x 6 mm, at which its text has its 8 pt.
  await page.setViewportSize({ width: Math.ceil(198 * mm), height: 1000 });
  const sheets = await page.evaluate(() =>
    [...document.querySelectorAll('.sheet img')].map((e) => e.getBoundingClientRect().width));
  check(sheets.every((w) => Math.abs(w - 198 * mm) < 1), `${name}: a sheet is not of its full size: ${sheets}`);
  check(found.headers === 'table-header-group', `${name}: table heads do not repeat in print`);
  await page.emulateMedia({ media: 'screen' });
  return count;
}

async function checkAccess(page, name) {
  await page.setViewportSize({ width: 1280, height: 900 });
  const result = await page.evaluate(async (source) => {
    new Function(source)();
    return window.axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] });
  }, axeSource);
  for (const v of result.violations)
    check(false, `${name}: axe ${v.id} (${v.impact}): ${v.help}: ${v.nodes[0].html.slice(0, 120)}`);
  check(result.passes.length > 10, `${name}: axe looked at next to nothing`);
}

async function checkValid(file, name) {
  const report = await validator.validateFile(file);
  for (const r of report.results)
    for (const m of r.messages.slice(0, 10)) check(false, `${name}:${m.line}: ${m.ruleId}: ${m.message}`);
}

async function checkReport(browser, file) {
  const name = path.basename(path.dirname(file));
  await checkValid(file, name);
  // axe needs to run a script, which the page itself forbids; so its policy is set aside here and
  // tested by the context below, which keeps it.
  const strict = await browser.newContext({ offline: false });
  const page = await strict.newPage();
  const requests = [];
  const messages = [];
  page.on('request', (r) => { if (!r.url().startsWith('data:')) requests.push(r.url()); });
  page.on('console', (m) => messages.push(m.text()));
  page.on('pageerror', (e) => messages.push(String(e)));
  await page.goto(`file://${file}`);
  check(!fs.readFileSync(file, 'utf8').includes(process.env.SOURCE), `${name}: names the folder that the well file lies in`);
  const broken = await page.evaluate(() => [...document.images].filter((i) => !(i.complete && i.naturalWidth > 100)).length);
  check(broken === 0, `${name}: ${broken} drawings do not show`);
  await checkWidths(page, name);
  const count = await checkPrint(page, name);
  check(requests.length === 1, `${name}: asks for ${requests.slice(1)}`);
  check(messages.length === 0, `${name}: console says ${messages}`);
  await strict.close();
  const loose = await browser.newContext({ bypassCSP: true });
  const second = await loose.newPage();
  await second.goto(`file://${file}`);
  await checkAccess(second, name);
  await loose.close();
  console.log(`${name}: ${count.body} pages before the appendix, ${count.A4} with it, ${count.Letter} on Letter`);
}

(async () => {
  const folder = path.resolve(process.argv[2]);
  const files = fs.readdirSync(folder).map((d) => path.join(folder, d, 'program.html')).filter((f) => fs.existsSync(f));
  check(files.length > 0, 'there is no report to test');
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM,
    args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking',
      '--disable-component-update', '--disable-sync'],
  });
  for (const file of files) await checkReport(browser, file);
  await browser.close();
  console.log(failures ? `${failures} failed` : `${files.length} reports are good`);
  process.exit(failures ? 1 : 0);
})();
