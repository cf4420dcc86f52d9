// SPDX-License-Identifier: MIT
// The live page: what it shows is always made by the engine from the text of the well file, and by nothing else.
// An edit changes that text, in one attribute; docs/live-page.md tells the rest.
'use strict';
(() => {
  const get = (id) => document.getElementById(id);
  const pristine = document.documentElement.cloneNode(true); // for the copy that is saved
  const add = (parent, tag, attributes = {}, text) => {
    const space = parent.namespaceURI === 'http://www.w3.org/2000/svg' || tag === 'svg' ? 'http://www.w3.org/2000/svg' : 'http://www.w3.org/1999/xhtml';
    const made = document.createElementNS(space, tag);
    for (const [name, value] of Object.entries(attributes)) if (value !== undefined && value !== null) made.setAttribute(name, value);
    if (text !== undefined) made.textContent = text;
    parent.append(made);
    return made;
  };

  // Makes what stands there like what is new, and touches nothing that is so already: a browser draws only what changed.
  function morph(old, fresh) {
    if (old.nodeName !== fresh.nodeName || (old.dataset && old.dataset.key !== fresh.dataset.key)) { old.replaceWith(fresh); return; }
    if (old.nodeType !== Node.ELEMENT_NODE) { if (old.data !== fresh.data) old.data = fresh.data; return; }
    for (const { name } of [...old.attributes]) if (!fresh.hasAttribute(name)) old.removeAttribute(name);
    for (const { name, value } of fresh.attributes) if (old.getAttribute(name) !== value) old.setAttribute(name, value);
    morphChildren(old, fresh);
  }
  function morphChildren(old, fresh) {
    const wanted = [...fresh.childNodes];
    while (old.childNodes.length > wanted.length) old.lastChild.remove();
    wanted.forEach((node, i) => { if (i < old.childNodes.length) morph(old.childNodes[i], node); else old.append(node); });
  }
  // What stands in an element, made anew by a function of an empty one of its kind.
  function refill(element, make) {
    const fresh = element.cloneNode(false);
    make(fresh);
    morphChildren(element, fresh);
  }

  // ---- bytes and texts: a file keeps its bytes, whatever they are ----
  function fromBase64(text) {
    const packed = atob(text);
    const bytes = new Uint8Array(packed.length);
    for (let i = 0; i < packed.length; i += 1) bytes[i] = packed.charCodeAt(i);
    return bytes;
  }
  // Five characters for four bytes (compose.sh): the engine.
  function fromBase85(text) {
    const value = new Uint8Array(128);
    [...'0123456789abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ.-:+=^!/*?&_>()[]{}@%$#'].forEach((c, i) => { value[c.charCodeAt(0)] = i; });
    const groups = Math.floor((text.length - 1) / 5);
    const bytes = new DataView(new ArrayBuffer(4 * groups));
    for (let g = 0; g < groups; g += 1) {
      let word = 0;
      for (let k = 1; k <= 5; k += 1) word = word * 85 + value[text.charCodeAt(5 * g + k)];
      bytes.setUint32(4 * g, word);
    }
    return new Uint8Array(bytes.buffer, 0, 4 * groups - Number(text[0]));
  }
  function toBase64(bytes) {
    let text = '';
    for (let i = 0; i < bytes.length; i += 8192) text += String.fromCharCode(...bytes.subarray(i, i + 8192));
    return btoa(text);
  }
  function decode(bytes) {
    try { return { text: new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes), single: false }; } catch (e) {
      let text = '';
      for (const b of bytes) text += String.fromCharCode(b);
      return { text, single: true }; // a byte a character, and back
    }
  }
  const encode = (text, single) => (single ? Uint8Array.from(text, (c) => c.charCodeAt(0) & 255) : new TextEncoder().encode(text));

  // ---- state: wells, each with its own endless history ----
  const meeting = JSON.parse(get('meeting').textContent);
  const wells = meeting.wells.map((w) => {
    const { text, single } = decode(fromBase64(w.text));
    return { file: w.file, single, history: [text], at: 0, kept: (w.kept || []).map((k) => ({ name: k.name, text: decode(fromBase64(k.text)).text })) };
  });
  const bases = (meeting.bases || []).map((b) => ({ name: b.name, text: b.text ? fromBase64(b.text) : null })); // of --basis
  const catalogue = (meeting.catalogue || []).map((c) => ({ kind: c.kind, name: c.name, text: fromBase64(c.text) })); // of --pipe, --bits, --stock
  let well = wells[Math.min(meeting.shown || 0, wells.length - 1)];
  let metric = Number(meeting.units || 0); // 0 field, 1 metric, 2 mixed: as the engine counts them
  let program = null; // as last made
  let programOf = null; // of which text
  let made = {};
  let held = null; // the handle that is being dragged
  let chosen = null; // key of the handle whose fields are shown
  const text = () => well.history[well.at];

  // ---- units ----
  const UNITS = { length: { ft: 0.3048, m: 1, in: 0.0254, cm: 0.01, mm: 0.001, km: 1000 }, diameter: { in: 0.0254, mm: 0.001, cm: 0.01, m: 1, ft: 0.3048 },
    density: { ppg: 0.45359237 / 0.003785411784, sg: 1000, 'kg/m3': 1, 'g/cm3': 1000, 'lb/ft3': 0.45359237 / 0.3048 ** 3,
      'psi/ft': 0.45359237 / 0.0254 ** 2 / 0.3048, 'kPa/m': 1000 / 9.80665, 'bar/m': 1e5 / 9.80665, 'Pa/m': 1 / 9.80665 } };
  // Other spellings that people use.
  const SPELT = { '"': 'in', "'": 'ft', inch: 'in', inches: 'in', feet: 'ft', foot: 'ft', metre: 'm', metres: 'm', meter: 'm', meters: 'm', 'lb/gal': 'ppg', 'lbs/gal': 'ppg', 'lbm/gal': 'ppg', '#/gal': 'ppg', ppge: 'ppg',
    'g/cc': 'g/cm3', 's.g': 'sg', 'gm/cc': 'g/cm3', 'lbm/ft3': 'lb/ft3', pcf: 'lb/ft3', 'kg/m\u00b3': 'kg/m3', 'g/cm\u00b3': 'g/cm3', 'lb/ft\u00b3': 'lb/ft3' };
  const SHOWN = { length: () => (metric ? ['m', 1, 1] : ['ft', 0.3048, 0]), density: () => (metric ? ['sg', 1000, 3] : ['ppg', UNITS.density.ppg, 2]) };
  const show = (kind, si, unit = true) => {
    const [name, factor, digits] = SHOWN[kind]();
    return si === null || si === undefined || Number.isNaN(si) ? '-' : (si / factor).toFixed(digits) + (unit ? ` ${name}` : '');
  };
  // Our symbol for a unit as people and files spell it.
  function unitOf(kind, symbol) {
    const plain = String(symbol).trim().toLowerCase().replace(/(.)\.$/, '$1');
    const spelt = (SPELT[plain] || plain).toLowerCase();
    return Object.keys(UNITS[kind]).find((u) => u.toLowerCase() === spelt);
  }
  // What a person may write for a quantity: "9 5/8", "9-5/8", "12.4ppg", "1,200 ft"; what is not sure is asked back.
  const EXAMPLE = { length: '9000 ft', density: '12.4 ppg', diameter: '9-5/8 in' };
  function read(words, kind, unit) {
    const s = words.trim().replace(/\u2032/g, "'").replace(/[\u2033\u201d]/g, '"').replace(/[\u2010-\u2014]/g, '-')
      .replace(/[\u00bc-\u00be\u2150-\u215e]/g, (c) => ` ${c.normalize('NFKD').replace('\u2044', '/')}`);
    const found = /^([-+]?\d[\d,. ]*?(?:[- ]+\d+\/\d+)?|\d+\/\d+)\s*([a-zA-Z][\w/.\u00b3]*|"|')?$/.exec(s);
    if (!found) return { say: `"${words}" is no number with a unit: write for example "${EXAMPLE[kind]}"` };
    let number = found[1].trim();
    const symbol = found[2] || unit;
    const fraction = /^(?:(\d+)[- ]+)?(\d+)\/(\d+)$/.exec(number);
    if (fraction && !(Number(fraction[3]) > 0)) return { say: `"${number}" is no number` };
    if (fraction) number = String(Number(fraction[1] || 0) + Number(fraction[2]) / Number(fraction[3]));
    if (/,/.test(number)) {
      if (kind !== 'length' || !/^\d{1,3}(,\d{3})+(\.\d+)?$/.test(number)) return { say: `write a point: ${number.replace(/,/g, '.')}${found[2] ? ` ${found[2]}` : ''}` };
      number = number.replace(/,/g, '');
    }
    if (/^\d{1,3}( \d{3})+(\.\d+)?$/.test(number)) number = number.replace(/ /g, '');
    if (!/^[-+]?\d+(\.\d*)?$/.test(number)) return { say: `"${number}" is no number: write for example "${EXAMPLE[kind]}"` };
    const known = unitOf(kind, symbol);
    if (!known) return { say: `"${symbol}" is no unit here: write ${Object.keys(UNITS[kind]).join(', ')}` };
    return { si: Number(number) * UNITS[kind][known], unit: known };
  }

  // ---- the well file as text: where each value stands ----
  function scan(source) {
    const elements = [];
    const open = [];
    const pattern = /<!--[\s\S]*?-->|<\?[\s\S]*?\?>|<!\[CDATA\[[\s\S]*?\]\]>|<(\/?)([A-Za-z_][\w.-]*)((?:\s+[\w.:-]+\s*=\s*(?:"[^"<]*"|'[^'<]*'))*)\s*(\/?)>/g;
    for (let m = pattern.exec(source); m; m = pattern.exec(source)) {
      if (m[2] === undefined) continue;
      if (m[1]) { const e = open.pop(); if (e) { e.close = m.index; e.after = m.index + m[0].length; } continue; }
      const element = { name: m[2], parent: open[open.length - 1] || null, start: m.index, end: m.index + m[0].length, at: {}, children: [],
        insert: m.index + 1 + m[2].length };
      const attribute = /([\w.:-]+)\s*=\s*(?:"([^"<]*)"|'([^'<]*)')/g;
      const begin = m.index + 1 + m[2].length;
      for (let a = attribute.exec(m[3]); a; a = attribute.exec(m[3])) {
        const value = a[2] !== undefined ? a[2] : a[3];
        const from = begin + a.index + a[0].length - 1 - value.length;
        element.at[a[1]] = { value, from, to: from + value.length, before: begin + a.index, after: begin + a.index + a[0].length };
      }
      if (element.parent) element.parent.children.push(element);
      elements.push(element);
      if (m[4]) element.after = element.end; else open.push(element);
    }
    return elements;
  }
  // A value with its unit, the table's where it has none of its own; null where it is not plain.
  function quantity(element, name, kind, unit) {
    const at = element.at[name];
    if (!at) return null;
    const m = /^\s*([-+]?\d+(?:\.\d+)?)\s*([A-Za-z#'][^<&]*)?$/.exec(at.value);
    const symbol = m && unitOf(kind, m[2] || unit);
    if (!symbol) return null;
    return { si: Number(m[1]) * UNITS[kind][symbol], unit: symbol, own: Boolean(m[2]), at };
  }
  // A number for the file: as short as its step allows, in the unit it has there.
  function written(si, q, kind) {
    const value = si / UNITS[kind][q.unit];
    const digits = kind === 'density' ? (q.unit === 'ppg' ? 2 : q.unit === 'kg/m3' ? 1 : 4) : (q.unit === 'm' ? 1 : 0);
    return `${Number(value.toFixed(digits))}${q.own ? ` ${q.unit}` : ''}`;
  }
  const spliced = (source, from, to, words) => source.slice(0, from) + words + source.slice(to);

  // Everything that can be moved. key names it across edits; x and y are what is edited, in SI. Of the text asked about last it
  // is known.
  let handled = { of: null, list: [] };
  function handles(source) {
    if (handled.of !== source) handled = { of: source, list: findHandles(source) };
    return handled.list;
  }
  function findHandles(source) {
    const list = [];
    const elements = scan(source);
    const count = {};
    for (const e of elements) {
      const n = count[e.name] = (count[e.name] || 0) + 1;
      if (e.name === 'point' && e.parent && /^(pore_pressure|fracture_gradient)$/.test(e.parent.name)) {
        const table = e.parent.at;
        const y = quantity(e, 'depth', 'length', table.depth_unit && table.depth_unit.value);
        const x = quantity(e, 'value', 'density', table.unit && table.unit.value);
        const i = e.parent.children.indexOf(e);
        const kind = e.parent.name === 'pore_pressure' ? 'pore' : 'fracture';
        if (x && y) list.push({ key: `${kind}-${i}`, kind, name: `${kind === 'pore' ? 'Pore pressure' : 'Fracture gradient'}, point ${i + 1}`, x, y });
      }
      if (e.name === 'interval') {
        const name = e.at.name ? e.at.name.value : `interval ${n}`;
        for (const edge of ['top', 'base']) {
          const y = quantity(e, edge, 'length');
          if (y) list.push({ key: `interval-${n}-${edge}`, kind: 'interval', edge, zone: n, name: `${edge === 'top' ? 'Top' : 'Base'} of ${name}`, y });
        }
      }
      if (e.name === 'fresh_water') {
        const y = quantity(e, 'deepest', 'length');
        if (y) list.push({ key: 'water', kind: 'water', name: 'Deepest fresh water', y });
      }
    }
    return list;
  }
  // A seat is known by its role and which of that role it is, as pins are: that stays while strings come and go.
  function seats() {
    if (!program) return [];
    return program.strings.map((s, i) => {
      const nth = program.strings.slice(0, i + 1).filter((t) => t.role === s.role && t.type !== 'tieback').length;
      return { key: `seat-${s.role}-${nth}`, kind: 'seat', string: i, role: s.role, nth, tie: s.type === 'tieback', name: `Shoe of ${nameOf(program, i)}${s.pinned ? ', pinned' : ''}`, fixed: i === program.strings.length - 1,
        si: s.shoe_tvd_ft * 0.3048, od: s.od_in * 0.0254, low: s.seat_shallowest_tvd_ft * 0.3048, high: s.seat_deepest_tvd_ft * 0.3048, pinned: s.pinned };
    }).filter((s) => !s.tie);
  }
  function nameOf(p, i) {
    const s = p.strings[i];
    const same = p.strings.filter((t) => t.role === s.role && t.type !== 'tieback');
    return s.role + (same.length > 1 ? ` ${p.strings.slice(0, i + 1).filter((t) => t.role === s.role && t.type !== 'tieback').length}` : '') + (s.type === 'tieback' ? ' tie-back' : '');
  }
  // The text with an attribute of a pinned string set, or gone (null): shoe, od. Pins stand from the surface down, so those of
  // the role above it get a line that pins nothing.
  function pinned(source, { role, nth }, attribute, words) {
    const elements = scan(source);
    const parent = elements.find((e) => e.name === 'pinned');
    const own = parent ? parent.children.filter((e) => e.name === 'string' && e.at.role && e.at.role.value === role && !(e.at.type && e.at.type.value === 'tieback')) : [];
    const there = own[nth - 1];
    if (there) {
      const at = there.at[attribute];
      if (at && words === null) return spliced(source, at.before - 1, at.after, '');
      if (at) return spliced(source, at.from, at.to, words);
      return words === null ? source : spliced(source, there.at.role.after, there.at.role.after, ` ${attribute}="${words}"`);
    }
    if (words === null) return source;
    const order = ['conductor', 'surface', 'intermediate', 'production'];
    let lines = '';
    for (let k = own.length; k < nth; k += 1) lines += `    <string role="${role}"${k === nth - 1 ? ` ${attribute}="${words}"` : ''}/>\n`;
    const root = elements.find((e) => e.name === 'well');
    if (!parent) return !root || root.close === undefined ? source : spliced(source, root.close, root.close, `  <pinned>\n${lines}  </pinned>\n`);
    const below = parent.children.find((e) => e.name === 'string' && e.at.role && order.indexOf(e.at.role.value) > order.indexOf(role));
    const last = parent.children[parent.children.length - 1];
    if (below) return spliced(source, below.start, below.start, lines.trim().split('\n').map((l) => l.trim()).join('\n    ') + '\n    ');
    if (!last) return parent.close === undefined ? source : spliced(source, parent.close, parent.close, `\n${lines}  `);
    return spliced(source, last.after, last.after, `\n${lines.replace(/\n$/, '')}`);
  }
  const shoeWords = (si) => written(si, { unit: metric ? 'm' : 'ft', own: true }, 'length');

  // ---- edits ----
  let merging = null; // edits of one drag, or of one run of typing, are one step of undo
  function edit(next, group) {
    if (next === text()) return;
    if (group && merging === group && well.at > 0) well.history[well.at] = next;
    else { well.history.length = well.at + 1; well.history.push(next); well.at += 1; }
    merging = group || null;
    changed();
  }
  function step(by) {
    if (well.at + by < 0 || well.at + by >= well.history.length) return;
    well.at += by;
    merging = null;
    changed();
  }

  // ---- the engine in its workers ----
  let workerText = null;
  let engineModule = null;
  let main = null;
  const helpers = {}; // others, by what they do: options, what-ifs; ended when that is stale
  let serial = 0;
  let busy = false;
  let waiting = null;
  let settle = 0;
  let compareTimer = 0;
  const wanted = {};
  const worker = () => new Worker(URL.createObjectURL(new Blob([workerText], { type: 'text/javascript' })));

  async function begin() {
    workerText = get('worker').textContent;
    const first = worker(); // starts while the engine is unpacked and compiled, the one during the other
    const packed = new Blob([fromBase85(get('engine').textContent)]).stream().pipeThrough(new DecompressionStream('gzip'));
    engineModule = await WebAssembly.compileStreaming(new Response(packed, { headers: { 'Content-Type': 'application/wasm' } }));
    main = startMain(first);
    changed();
  }
  const equip = (w) => { w.postMessage({ module: engineModule, bases, catalogue }); return w; };
  function early(answer) { const about = wanted[answer.id]; if (about && about.of === text()) showFindings(answer); }
  function startMain(w) {
    w.onmessage = ({ data }) => { if (data.ready) return; if (data.early) { early(data); return; } busy = false; next(); arrived(data); };
    return equip(w);
  }
  function next() {
    if (busy || !waiting || !main) return;
    const job = waiting;
    waiting = null;
    busy = true;
    main.postMessage(job);
  }
  // While something moves, spreads are left out of the text: the search for the surest seats takes its time afterwards.
  const withoutSpreads = (source) => source.replace(/(\s)(sd|low|high)(\s*=\s*)("[^"<]*"|'[^'<]*')/g, (all) => ' '.repeat(all.length));
  function ask(quick, started) {
    const source = quick ? withoutSpreads(text()) : text();
    const id = serial += 1;
    const make = { json: ['json'], schematic: ['schematic', 1] };
    if (!quick) Object.assign(make, { report: ['report'], window: ['window'], page: ['schematic', 0] });
    wanted[id] = { of: text(), quick: quick && source !== text(), started };
    const job = { id, text: encode(source, well.single), file: well.file, metric, plan: true, make };
    if (!quick) { withHelper('full', job, arrived, early); return; } // takes its time, and nothing that moves waits for it
    if (!held && source !== text()) job.whole = encode(text(), well.single);
    waiting = job;
    next();
  }
  let latest = 0; // the number of the answer that is shown
  const timings = []; // from an event to its program painted
  function painted(then) {
    const channel = new MessageChannel();
    channel.port1.onmessage = then;
    requestAnimationFrame(() => channel.port2.postMessage(0));
  }
  function arrived(answer) {
    const about = wanted[answer.id];
    delete wanted[answer.id];
    if (answer.broken) { stale(true); get('totals').textContent = `The planner stopped: ${answer.broken}. It starts again with the next change.`; endHelper('full'); main.terminate(); main = startMain(worker()); busy = false; return; }
    if (!about || answer.id < latest) return; // a full plan may be there before the quick one that was asked for first
    const behind = about.of !== text(); // something newer is on its way
    if (behind) { if (held && answer.made.json) follow(answer, about); return; }
    latest = answer.id;
    made = { ...answer.made, of: about.of, quick: about.quick };
    const nothing = answer.read !== 'ok' || !answer.made.json;
    if (nothing) {
      stale(true);
      get('totals').textContent = answer.read !== 'ok' ? 'The well file is refused: what is wrong stands above its text. What is greyed is of an earlier text.' : `No program. ${answer.refusal}`;
    } else {
      program = JSON.parse(answer.made.json);
      programOf = about.of;
      stale(false);
      showProgram(answer, about);
    }
    draw();
    if (chosen && !get('fields').contains(document.activeElement)) showFields();
    painted(() => timings.push(performance.now() - about.started));
    document.documentElement.dataset.shown = String(answer.id);
    document.documentElement.dataset.full = String(!about.quick && !nothing);
    if (!about.quick && !nothing) { report = answer.made.report; compareSoon(); }
    if (!about.quick) variantsSoon();
  }
  // While a drag goes on, the program of a moment ago is shown, greyed as what it is.
  function follow(answer, about) {
    program = JSON.parse(answer.made.json);
    programOf = about.of;
    showProgram(answer, about);
    draw();
  }
  function changed() {
    ask(true, performance.now()); // the engine works while the rest is drawn
    stale(true, true);
    clearTimeout(settle);
    clearTimeout(compareTimer);
    for (const what of Object.keys(helpers)) endHelper(what);
    for (const id of ['options', 'beside', 'findings', 'totals']) get(id).classList.add('stale');
    report = null;
    if (get('text').value !== text()) get('text').value = text();
    get('undo').disabled = well.at === 0;
    get('redo').disabled = well.at + 1 === well.history.length;
    draw();
    if (!held) settle = setTimeout(() => ask(false, performance.now()), 250);
  }
  function stale(on, soft) {
    for (const id of ['program', 'drawing']) get(id).classList.toggle('stale', on);
    if (!soft) get('totals').classList.remove('stale');
    if (on && !soft) get('options').classList.add('stale');
  }

  // ---- options ----
  function endHelper(what) { if (helpers[what]) { helpers[what].terminate(); delete helpers[what]; } }
  function withHelper(what, job, then, soon) {
    if (!helpers[what]) helpers[what] = equip(worker());
    const mine = helpers[what];
    mine.onmessage = ({ data }) => { if (data.ready || mine !== helpers[what]) return; if (!data.early) then(data); else if (soon) soon(data); };
    mine.postMessage(job);
  }
  function compareSoon() {
    clearTimeout(compareTimer);
    get('options-say').textContent = 'Options are searched for.';
    compareTimer = setTimeout(() => {
      const of = text();
      withHelper('options', { id: 0, text: encode(of, well.single), file: well.file, metric, compare: true, make: { json: ['comparisonJson'], none: ['noComparison', 0] } }, (answer) => {
        if (of !== text()) return;
        if (answer.broken || !answer.made.json) { get('options-table').replaceChildren(); get('options-say').textContent = answer.made.none || answer.broken || 'No options.'; } else showOptions(JSON.parse(answer.made.json));
        get('options').classList.remove('stale');
        document.documentElement.dataset.compared = 'true';
      });
    }, 400);
  }
  const money = (totals) => (totals.cost === undefined || totals.cost === null ? '-' : `${Math.round(totals.cost).toLocaleString('en-US')} ${totals.currency || ''}`);
  function row(parent, cells, head) {
    const tr = add(parent, 'tr');
    cells.forEach((c, i) => add(tr, head || i === 0 ? 'th' : 'td', { scope: head ? 'col' : i === 0 ? 'row' : undefined, class: typeof c === 'object' && c.n ? 'n' : undefined }, typeof c === 'object' ? c.n : c));
  }
  const n = (words) => ({ n: String(words) });
  function showOptions(found) {
    const all = [found.plan, ...(found.options || [])];
    const drawn = found.drawn_wells;
    const odds = (label) => { const p = drawn && drawn.programs.find((q) => q.label === label); return p ? `${(100 * p.held / drawn.of).toFixed(0)} %` : '-'; };
    get('options-say').textContent = drawn ? `Odds: share of ${drawn.of} wells drawn from the spreads in which the program holds by the rules of seats.` : 'No spreads in the well file, so no odds.';
    const table = get('options-table');
    table.replaceChildren();
    add(table, 'caption', {}, 'Options that no other one equals or beats');
    row(add(table, 'thead'), ['Option', 'Strings', n('Cost'), n('Days'), n('Odds'), n('Steel, t')], true);
    const body = add(table, 'tbody');
    for (const o of all) {
      const strings = o.strings.map((q) => `${inches(q.od_in).replace('-', '\u2011')}${q.type === 'full' ? '' : ` ${q.type}`}`).join(', '); // a size is not parted at a line's end
      const name = o.label === 'plan' ? 'as planned' : o.label;
      row(body, [name, strings, n(money(o.totals)), n(o.totals.days === undefined ? '-' : o.totals.days.toFixed(1)), n(odds(o.label)), n(o.totals.steel_t.toFixed(0))]);
      const cell = body.lastChild.children[1];
      const more = [o.changes, o.buys, o.risks].filter(Boolean);
      if (more.length === 0) continue;
      const details = add(cell, 'details');
      add(details, 'summary', { 'aria-label': `What is otherwise in ${name}` }, 'what is otherwise');
      for (const words of more) add(details, 'p', {}, words);
    }
  }

  // ---- what is shown ----
  function inches(d) {
    const sixteenths = Math.round(d * 16);
    if (Math.abs(d * 16 - sixteenths) > 0.008) return d.toFixed(3);
    let top = sixteenths % 16;
    let base = 16;
    while (top && top % 2 === 0) { top /= 2; base /= 2; }
    return `${Math.floor(sixteenths / 16)}${top ? `-${top}/${base}` : ''}`;
  }
  const ft = (v) => show('length', v === undefined || v === null ? null : v * 0.3048, false);
  let listed = null; // the findings that stand there, and for how many lines
  function showFindings(answer) {
    const list = get('findings');
    list.classList.remove('stale');
    const lines = text().split('\n').length;
    if (listed === `${lines} ${well.file} ${answer.findings}`) return; // as it was: a drag changes no line
    listed = `${lines} ${well.file} ${answer.findings}`;
    list.replaceChildren();
    const marked = new Set();
    for (const line of answer.findings.split('\n').filter(Boolean).slice(0, 200)) {
      const [error, at, , ...rest] = line.split('\t');
      if (error === '1') marked.add(Number(at));
      const button = add(add(list, 'li', { class: error === '1' ? 'bad' : undefined }), 'button', { type: 'button' }, rest.join('\t').replace(`${well.file}:`, 'line '));
      button.addEventListener('click', () => goToLine(Number(at)));
    }
    numberLines(marked);
    document.documentElement.dataset.findings = String(list.children.length);
  }
  function numberLines(marked) {
    const lines = get('lines');
    const count = text().split('\n').length;
    refill(lines, (fresh) => {
      let run = '';
      for (let i = 1; i <= count; i += 1) { if (marked.has(i)) { fresh.append(run); add(fresh, 'b', {}, `!${i}`); run = '\n'; } else run += `${i}\n`; }
      fresh.append(run);
    });
    lines.scrollTop = get('text').scrollTop;
  }
  function goToLine(line) {
    const area = get('text');
    const rows = text().split('\n');
    const from = rows.slice(0, line - 1).reduce((sum, r) => sum + r.length + 1, 0);
    area.focus();
    area.setSelectionRange(from, from + (rows[line - 1] || '').length);
    area.scrollTop = Math.max(0, (line - 5) * parseFloat(getComputedStyle(area).lineHeight));
  }
  function showProgram(answer, about) {
    const p = program;
    const t = p.totals;
    get('name').textContent = p.well;
    document.title = p.well;
    get('totals').textContent = `${p.runnable ? '' : 'NOT RUNNABLE. '}${p.strings.length} strings, ${t.steel_t.toFixed(1)} t of steel${t.days === undefined ? '' : `, ${t.days.toFixed(1)} days`}${t.cost === undefined ? '' : `, ${money(t)}`}${about.quick ? '. Seats before the search for the surest ones, which follows' : ''}`;
    refill(get('stoppers'), (stoppers) => {
      for (const s of p.notices.filter((x) => x.severity === 'stopper')) { const e = add(stoppers, 'p', { class: 'stop' }); add(e, 'strong', {}, 'Stopper: '); e.append(`${s.string ? `${s.string}: ` : ''}${s.text}`); }
    });
    refill(get('table'), (table) => programTable(table, p, about));
    const list = p.notices.filter((x) => x.severity === 'review');
    refill(get('review').querySelector('ul'), (review) => { for (const x of list) add(review, 'li', {}, `${x.string ? `${x.string}: ` : ''}${x.text}`); });
    get('review').querySelector('summary').textContent = `For review: ${list.length}`;
    refill(get('why').querySelector('dl'), (why) => p.strings.forEach((s, i) => { add(why, 'dt', {}, nameOf(p, i)); add(why, 'dd', {}, s.governed_text || ''); }));
    const image = get('schematic');
    const drawn = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(answer.made.schematic || '')}`;
    if (image.getAttribute('src') !== drawn) image.src = drawn;
    image.alt = `Schematic of ${p.well}: ${p.strings.map((s, i) => `${nameOf(p, i)} ${inches(s.od_in)} in to ${ft(s.shoe_tvd_ft)} ${metric ? 'm' : 'ft'}`).join('; ')}`;
  }
  function programTable(table, p, about) {
    add(table, 'caption', {}, `Depths in ${metric ? 'm' : 'ft'}, mud in ${metric ? 'sg' : 'ppg'}, weight in ${metric === 1 ? 'kg/m' : 'lb/ft'}${p.totals.currency ? `, cost in ${p.totals.currency}` : ''}${about.quick ? '. Without the spreads of the points, which follow' : ''}`);
    row(add(table, 'thead'), ['String', 'Type', n('Hole'), n('Pipe'), n('Shoe TVD'), n('Mud'), 'Weight, grade, thread', n('Top MD'), n('Cost'), 'Governed by'], true);
    const body = add(table, 'tbody');
    p.strings.forEach((s, i) => {
      row(body, [nameOf(p, i) + (s.pinned ? ' (pinned)' : ''), s.type, n(s.hole_in === undefined ? '-' : inches(s.hole_in)), n(inches(s.od_in)), n(ft(s.shoe_tvd_ft)),
        n(s.mud_ppg === undefined ? '-' : show('density', s.mud_ppg * UNITS.density.ppg, false)), '', n(ft(s.top_md_ft)), n(s.cost === undefined ? '-' : Math.round(s.cost).toLocaleString('en-US')), s.governed_by || '']);
      const pipes = body.lastChild.children[6];
      for (const q of s.sections) add(pipes, 'span', { class: 'pipe' }, `${metric === 1 ? (q.weight_lbft * 1.48816394).toFixed(1) : q.weight_lbft.toFixed(2)} ${q.grade} ${q.thread}`);
    });
  }
  // Another well: nothing of the last one stays.
  function clearProgram() {
    get('name').textContent = well.file;
    get('totals').textContent = 'The well is planned.';
    for (const node of [get('stoppers'), get('table'), get('options-table'), get('review').querySelector('ul'), get('why').querySelector('dl')]) node.replaceChildren();
    get('options-say').textContent = '';
    get('schematic').removeAttribute('src');
    get('schematic').alt = 'No schematic yet';
  }
  // The report, for print: its own styles in a tree of their own.
  let report; // its text, null before it is made
  let laidOut; // the one that stands there: it is laid out when it is printed, since that takes as long as many programs
  function layReport() {
    if (laidOut === report) return;
    laidOut = report;
    const host = get('printed');
    const tree = host.shadowRoot || host.attachShadow({ mode: 'open' });
    if (report === null) { tree.replaceChildren(); add(tree, 'p', {}, 'The report of this text is not made yet.'); return; }
    const page = new DOMParser().parseFromString(report, 'text/html');
    const style = [...page.querySelectorAll('style')].map((s) => s.textContent).join('\n').replace(/:root\b/g, ':host').replace(/(^|[\s,}])html\b/g, '$1:host').replace(/(^|[\s,}])body\b/g, '$1.body');
    tree.replaceChildren();
    add(tree, 'style', {}, style);
    const body = add(tree, 'div', { class: 'body' });
    for (const node of [...page.body.childNodes]) body.append(document.importNode(node, true));
    for (const script of tree.querySelectorAll('script, iframe, object, embed')) script.remove();
  }
  window.addEventListener('beforeprint', layReport);
  window.matchMedia('print').addEventListener('change', (event) => { if (event.matches) layReport(); });

  // ---- the window plot ----
  const W = 500, H = 640, LEFT = 52, RIGHT = 490, TOP = 40, BOTTOM = 625;
  let scale = null; // kept while something is dragged
  function scaleOf(list) {
    const ys = list.map((h) => h.y.si).concat(seats().map((s) => s.si));
    const xs = list.filter((h) => h.x).map((h) => h.x.si);
    const low = Math.min(...xs), high = Math.max(...xs);
    const pad = (high - low) * 0.08 || 100;
    return { deep: Math.max(...ys) * 1.03 || 1, low: low - 1.6 * pad, high: high + 2.2 * pad }; // room for the handles at both sides
  }
  const xOf = (si) => LEFT + (RIGHT - LEFT) * (si - scale.low) / (scale.high - scale.low);
  const yOf = (si) => TOP + (BOTTOM - TOP) * si / scale.deep;
  const nice = (span, most) => { const raw = span / most; const ten = 10 ** Math.floor(Math.log10(raw)); return [1, 2, 5, 10].find((k) => k * ten >= raw) * ten; };

  function draw(refocus) {
    const list = handles(text());
    if (list.filter((h) => h.x).length < 2) { get('chart').replaceChildren(); add(get('chart'), 'p', {}, 'The pressures of this text cannot be drawn as points.'); return; }
    if (!held || !scale) scale = scaleOf(list);
    const focused = refocus || (document.activeElement && document.activeElement.dataset ? document.activeElement.dataset.key : null);
    const svg = document.createElementNS('http://www.w3.org/2000/svg', 'svg');
    for (const [k, v] of Object.entries({ viewBox: `0 0 ${W} ${H}`, role: 'group', 'aria-labelledby': 'plot-h', 'aria-describedby': 'plot-hint' })) svg.setAttribute(k, v);
    drawGrid(svg);
    drawZones(svg, list);
    for (const kind of ['pore', 'fracture']) {
      const points = list.filter((h) => h.kind === kind);
      if (points.length === 0) continue;
      add(svg, 'polyline', { class: kind, points: points.map((h) => `${xOf(h.x.si)},${yOf(h.y.si)}`).join(' ') });
      nameLine(svg, kind, points);
    }
    const old = programOf !== text();
    const late = add(svg, 'g', { class: old ? 'stale' : undefined });
    drawMud(late);
    drawSeats(late, list);
    for (const h of list) drawHandle(svg, h, h.x ? xOf(h.x.si) : h.kind === 'water' ? RIGHT - 10 : LEFT + (h.edge === 'base' ? 30 : 12), yOf(h.y.si), `${h.name}: ${h.x ? `${show('density', h.x.si)} at ` : ''}${show('length', h.y.si)}`);
    const there = get('chart').firstElementChild;
    if (there && there.nodeName === 'svg') morph(there, svg); else get('chart').replaceChildren(svg);
    if (!focused || held) return; // while it is dragged, when it is let go
    const node = get('chart').querySelector(`[data-key="${CSS.escape(focused)}"]`);
    if (node && node !== document.activeElement) node.focus({ preventScroll: true });
  }
  // The name of a line beside the middle of its longest stretch.
  function nameLine(svg, kind, points) {
    let best = null;
    for (let i = 1; i < points.length; i += 1) {
      const span = Math.abs(yOf(points[i].y.si) - yOf(points[i - 1].y.si));
      if (!best || span > best.span) best = { span, x: (xOf(points[i].x.si) + xOf(points[i - 1].x.si)) / 2, y: (yOf(points[i].y.si) + yOf(points[i - 1].y.si)) / 2 };
    }
    if (best) add(svg, 'text', { x: best.x + (kind === 'pore' ? -8 : 10), y: best.y + 4, 'text-anchor': kind === 'pore' ? 'end' : 'start' }, kind === 'pore' ? 'pore' : 'fracture');
  }
  function drawGrid(svg) {
    const [lengthName, length] = SHOWN.length();
    const [densityName, density, digits] = SHOWN.density();
    const dy = nice(scale.deep / length, 9), dx = nice((scale.high - scale.low) / density, 8);
    for (let d = 0; d * length <= scale.deep; d += dy) { add(svg, 'line', { class: 'grid', x1: LEFT, x2: RIGHT, y1: yOf(d * length), y2: yOf(d * length) }); add(svg, 'text', { class: 'quiet', x: LEFT - 6, y: yOf(d * length) + 4, 'text-anchor': 'end' }, d); }
    for (let v = Math.ceil(scale.low / density / dx) * dx; v * density <= scale.high; v += dx) { add(svg, 'line', { class: 'grid', x1: xOf(v * density), x2: xOf(v * density), y1: TOP, y2: BOTTOM }); add(svg, 'text', { class: 'quiet', x: xOf(v * density), y: TOP - 6, 'text-anchor': 'middle' }, v.toFixed(Math.max(0, Math.min(digits, dx < 1 ? 2 : 0)))); }
    add(svg, 'text', { x: 2, y: 14 }, `TVD, ${lengthName}`);
    add(svg, 'text', { x: RIGHT, y: 14, 'text-anchor': 'end' }, `equivalent mud weight, ${densityName}`);
  }
  function drawZones(svg, list) {
    for (const top of list.filter((h) => h.kind === 'interval' && h.edge === 'top')) {
      const base = list.find((h) => h.kind === 'interval' && h.edge === 'base' && h.zone === top.zone);
      if (!base) continue;
      const y1 = yOf(top.y.si), y2 = yOf(base.y.si);
      if (!(y2 > y1)) continue;
      add(svg, 'rect', { class: 'zone', x: LEFT, width: RIGHT - LEFT, y: y1, height: y2 - y1 });
      for (let x = LEFT; x < RIGHT; x += 14) add(svg, 'line', { class: 'hatch', x1: x, x2: Math.min(RIGHT, x + 7), y1: y2, y2: y1 });
      add(svg, 'line', { class: 'edge', x1: LEFT, x2: RIGHT, y1, y2: y1 });
      add(svg, 'line', { class: 'edge', x1: LEFT, x2: RIGHT, y1: y2, y2 });
      label(svg, top.name.replace('Top of ', ''), y1 - 6, 'start', list.filter((h) => h.x));
    }
    const water = list.find((h) => h.kind === 'water');
    if (water) { add(svg, 'line', { class: 'water', x1: LEFT, x2: RIGHT, y1: yOf(water.y.si), y2: yOf(water.y.si) }); add(svg, 'text', { x: RIGHT - 24, y: yOf(water.y.si) - 5, 'text-anchor': 'end' }, 'fresh water'); }
  }
  // A name at the side that is preferred, unless a point stands there and none at the other.
  function label(parent, name, y, preferred, points) {
    const long = 6.5 * name.length;
    const hit = (anchor) => { const from = anchor === 'start' ? LEFT + 24 : RIGHT - 40 - long; return points.some((h) => Math.abs(yOf(h.y.si) - y + 4) < 14 && xOf(h.x.si) > from - 8 && xOf(h.x.si) < from + long + 8); };
    const other = preferred === 'end' ? 'start' : 'end';
    const anchor = hit(preferred) && !hit(other) ? other : preferred;
    add(parent, 'text', { x: anchor === 'start' ? LEFT + 24 : RIGHT - 40, y, 'text-anchor': anchor }, name);
  }
  function drawMud(group) {
    if (!program) return;
    let d = '';
    let from = 0;
    for (const s of program.strings) {
      if (s.type === 'tieback') continue;
      const shoe = s.shoe_tvd_ft * 0.3048;
      if (s.mud_ppg !== undefined) { const x = xOf(s.mud_ppg * UNITS.density.ppg); d += `${d ? 'L' : 'M'}${x},${yOf(from)}L${x},${yOf(shoe)}`; }
      from = shoe;
    }
    if (d) add(group, 'path', { class: 'mud', d });
  }
  function drawSeats(group, list) {
    const points = list.filter((h) => h.x);
    for (const s of seats()) {
      const moved = held && held.key === s.key ? held.si : s.si;
      if (!s.fixed && s.high > s.low) add(group, 'line', { class: 'range', x1: LEFT + 3, x2: LEFT + 3, y1: yOf(s.low), y2: yOf(s.high) });
      add(group, 'line', { class: 'seat', x1: LEFT, x2: RIGHT, y1: yOf(moved), y2: yOf(moved) });
      const name = `${nameOf(program, s.string)} ${inches(program.strings[s.string].od_in)}${s.pinned ? ', pinned' : ''}`;
      label(group, name, yOf(moved) - 5, 'end', points);
      drawHandle(group, { ...s, y: { si: moved } }, RIGHT - 24, yOf(moved), `${s.name}: ${show('length', moved)}`);
    }
  }
  function drawHandle(parent, h, x, y, words) {
    const [, unit] = SHOWN[h.x ? 'density' : 'length']();
    const value = (h.x || h.y).si / unit;
    const g = add(parent, 'g', h.fixed ? { class: 'handle fixed', tabindex: 0, role: 'button', 'aria-label': `${words}. It stands at the objective; its pipe can be set` }
      : { class: `handle${held && held.key === h.key ? ' held' : ''}`, tabindex: 0, role: 'slider', 'aria-label': h.name, 'aria-valuetext': words, 'aria-valuenow': value.toFixed(2), 'aria-orientation': h.x ? 'horizontal' : 'vertical' });
    g.dataset.key = h.key;
    add(g, 'circle', { class: 'reach', cx: x, cy: y, r: 14 });
    if (h.kind === 'seat') add(g, 'path', { class: 'dot', d: `M${x - 8},${y + 6}L${x + 8},${y + 6}L${x},${y - 7}Z` });
    else if (h.kind === 'interval' || h.kind === 'water') add(g, 'rect', { class: 'dot', x: x - 6, y: y - 5, width: 12, height: 10 });
    else if (h.kind === 'fracture') add(g, 'path', { class: 'dot', d: `M${x - 7},${y}L${x},${y - 7}L${x + 7},${y}L${x},${y + 7}Z` });
    else add(g, 'circle', { class: 'dot', cx: x, cy: y, r: 6 });
    add(g, 'title', {}, words);
  }

  // Puts a handle where it is asked to stand (SI), as one change of the text.
  const STEPS = { length: () => (metric ? 10 : 50 * 0.3048), density: () => (metric ? 10 : 0.05 * UNITS.density.ppg) };
  const rounded = (si, kind) => Math.round(si / STEPS[kind]()) * STEPS[kind]();
  function place(key, { x, y }, group) {
    const s = held && held.h.kind === 'seat' ? held.h : seats().find((q) => q.key === key);
    if (s) {
      if (y === undefined || s.fixed) return;
      const si = Math.max(1, y);
      if (held) held.si = si;
      edit(pinned(text(), s, 'shoe', shoeWords(si)), group);
      return;
    }
    let next = text();
    for (const [axis, value, kind] of [['x', x, 'density'], ['y', y, 'length']]) {
      const h = handles(next).find((q) => q.key === key);
      if (!h || value === undefined || !h[axis]) continue;
      if (Math.abs(value - h[axis].si) > 1e-9) next = spliced(next, h[axis].at.from, h[axis].at.to, written(value, h[axis], kind));
    }
    edit(next, group);
  }
  const find = (key) => handles(text()).find((h) => h.key === key) || seats().map((s) => ({ ...s, y: { si: s.si, unit: metric ? 'm' : 'ft' } })).find((s) => s.key === key);

  function pointer(event) {
    const svg = get('chart').querySelector('svg');
    const box = svg.getBoundingClientRect();
    const px = (event.clientX - box.left) * W / box.width, py = (event.clientY - box.top) * H / box.height;
    return { x: scale.low + (px - LEFT) / (RIGHT - LEFT) * (scale.high - scale.low), y: (py - TOP) / (BOTTOM - TOP) * scale.deep };
  }
  let gesture = 0;
  get('chart').addEventListener('pointerdown', (event) => {
    const g = event.target.closest('.handle');
    if (!g) return;
    event.preventDefault();
    const h = find(g.dataset.key);
    if (!h) return;
    g.focus();
    held = { key: h.key, group: `drag ${gesture += 1}`, begun: pointer(event), moved: false, h, si: h.y.si, axis: null };
    get('chart').setPointerCapture(event.pointerId);
    choose(h.key);
  });
  get('chart').addEventListener('pointermove', (event) => {
    if (!held) return;
    const at = pointer(event), by = { x: at.x - held.begun.x, y: at.y - held.begun.y };
    // a point goes along the one axis it was first drawn along; Alt frees it
    if (!held.axis) {
      const across = Math.abs(by.x) / (scale.high - scale.low), down = Math.abs(by.y) / scale.deep;
      if (Math.max(across, down) < 0.006) return;
      held.axis = !held.h.x ? 'y' : across >= down ? 'x' : 'y';
    }
    held.moved = true;
    const to = {};
    if (held.h.x && (held.axis === 'x' || event.altKey)) to.x = rounded(held.h.x.si + by.x, 'density');
    if (held.axis === 'y' || event.altKey) to.y = Math.max(0, rounded(held.h.y.si + by.y, 'length'));
    place(held.key, to, held.group);
  });
  function release() {
    if (!held) return;
    const { moved, key } = held;
    held = null;
    merging = null;
    if (moved) changed();
    draw(key);
    showFields();
  }
  get('chart').addEventListener('pointerup', release);
  get('chart').addEventListener('pointercancel', release);
  get('chart').addEventListener('focusin', (event) => { const g = event.target.closest('.handle'); if (g && !held) choose(g.dataset.key); });
  get('chart').addEventListener('keydown', (event) => {
    const g = event.target.closest('.handle');
    const turn = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    if (!g || !turn) return;
    event.preventDefault();
    const h = find(g.dataset.key);
    if (!h) return;
    const by = event.shiftKey ? 5 : 1;
    const to = {};
    if (turn[0] && h.x) to.x = h.x.si + turn[0] * by * STEPS.density();
    if (turn[1]) to.y = Math.max(0, h.y.si + turn[1] * by * STEPS.length());
    place(h.key, to);
    showFields();
  });

  // ---- fields of the chosen handle ----
  function choose(key) { chosen = key; showFields(); }
  function showFields() {
    const h = chosen && find(chosen);
    get('fields').hidden = !h;
    if (!h) return;
    get('fields-name').textContent = h.name;
    get('fields-say').textContent = '';
    get('unpin').hidden = !(h.kind === 'seat' && h.pinned);
    const box = get('fields-in');
    box.replaceChildren();
    const field = (label, id, words) => add(add(box, 'label', {}, `${label} `), 'input', { id, value: words, autocomplete: 'off' });
    if (!h.fixed) field('Depth, TVD', 'field-y', show('length', h.y.si));
    if (h.kind === 'seat') field('Pipe', 'field-od', `${inches(h.od / 0.0254)} in`);
    if (h.x) field('Value', 'field-x', show('density', h.x.si));
  }
  get('fields').addEventListener('submit', (event) => {
    event.preventDefault();
    const h = find(chosen);
    const to = {};
    for (const [axis, kind] of [['y', 'length'], ['x', 'density']]) {
      const input = get(`field-${axis}`);
      if (!input || !h || input.value === show(kind, h[axis].si)) continue;
      const got = read(input.value, kind, SHOWN[kind]()[0]);
      if (got.say) { get('fields-say').textContent = got.say; input.focus(); return; }
      to[axis] = got.si;
    }
    const pipe = get('field-od');
    let next = null; // a pipe is pinned as a shoe is
    if (pipe && h && pipe.value !== `${inches(h.od / 0.0254)} in`) {
      const got = read(pipe.value, 'diameter', 'in');
      if (got.say) { get('fields-say').textContent = got.say; pipe.focus(); return; }
      next = pinned(text(), h, 'od', `${Number((got.si / 0.0254).toFixed(4))} in`);
    }
    if (next) edit(next);
    if (Object.keys(to).length) place(chosen, to, next ? merging : undefined);
    showFields();
  });
  get('unpin').addEventListener('click', () => { const s = seats().find((q) => q.key === chosen); if (s) edit(pinned(text(), s, 'shoe', null)); showFields(); });

  // ---- what-ifs ----
  get('keep').addEventListener('submit', (event) => {
    event.preventDefault();
    const name = get('keep-name').value.trim();
    const taken = well.kept.some((k) => k.name === name);
    get('keep-say').textContent = !name ? 'Give the state a name.' : taken ? `There is a state "${name}" already.` : '';
    if (!name || taken) return;
    well.kept.push({ name, text: text(), shown: true });
    get('keep-name').value = '';
    showKept();
    variantsSoon();
  });
  function showKept() {
    const list = get('kept');
    list.replaceChildren();
    for (const k of well.kept) {
      const item = add(list, 'li');
      const label = add(item, 'label');
      const box = add(label, 'input', { type: 'checkbox' });
      box.checked = k.shown !== false;
      label.append(` ${k.name} `);
      box.addEventListener('change', () => { k.shown = box.checked; variantsSoon(); });
      add(item, 'button', { type: 'button', }, `Go on from “${k.name}”`).addEventListener('click', () => edit(k.text));
      add(item, 'button', { type: 'button', }, `Drop “${k.name}”`).addEventListener('click', () => { well.kept = well.kept.filter((q) => q !== k); showKept(); variantsSoon(); });
    }
  }
  // The states that are shown, planned and held against the present one by the engine, in as many drawings as it takes.
  const MOST_BESIDE = 4;
  function variantsSoon() {
    const shown = well.kept.filter((k) => k.shown !== false);
    const box = get('beside');
    if (shown.length === 0) { endHelper('variants'); box.replaceChildren(); box.classList.remove('stale'); document.documentElement.dataset.variants = '0'; return; }
    box.classList.add('stale');
    endHelper('variants');
    const of = text(), inUnits = metric;
    const groups = [];
    for (let i = 0; i < shown.length; i += MOST_BESIDE) groups.push(shown.slice(i, i + MOST_BESIDE));
    const answers = [];
    const next = () => {
      if (answers.length === groups.length) { showVariants(shown, answers); return; }
      const columns = [{ name: NOW, text: of }, ...groups[answers.length]].map((c) => ({ name: c.name, text: encode(c.text, well.single) }));
      withHelper('variants', { id: 0, beside: columns, file: well.file, metric }, (answer) => {
        if (of !== text() || inUnits !== metric) return;
        if (answer.broken) { endHelper('variants'); box.replaceChildren(); add(box, 'p', {}, `The planner stopped: ${answer.broken}`); return; }
        answers.push(answer);
        next();
      });
    };
    next();
  }
  const NOW = 'as shown now';
  const lines = (words) => (words || '').split('\n').filter(Boolean);
  function showVariants(shown, answers) {
    const box = get('beside');
    box.replaceChildren();
    const sides = [answers[0].sides[0], ...answers.flatMap((a) => a.sides.slice(1))].map((s) => ({ ...s, program: s.json ? JSON.parse(s.json) : null, partners: lines(s.partners) }));
    const names = [NOW, ...shown.map((k) => k.name)];
    const scroll = add(box, 'div', { class: 'scroll', tabindex: 0, role: 'region', 'aria-label': 'States beside each other' });
    besideTable(add(scroll, 'table', { class: 'beside' }), names, sides);
    const words = add(box, 'div', { class: 'words' });
    sides.forEach((s, i) => {
      if (i === 0) return;
      const part = add(words, 'div', { class: 'variant' });
      add(part, 'h3', {}, `${names[i]}, against what is shown now`);
      if (!s.program) add(part, 'p', {}, s.refusal || 'The well file of this state is refused.');
      else if (!sides[0].program) add(part, 'p', {}, 'What is shown now has no program to be held against.');
      else changesList(part, lines(s.changes));
    });
    const drawings = add(box, 'div', { class: 'drawings' });
    for (const a of answers) if (a.drawing) add(drawings, 'img', { alt: `Schematics beside each other, with what differs marked: ${names.join(', ')}`, src: `data:image/svg+xml;charset=utf-8,${encodeURIComponent(a.drawing)}` });
    box.classList.remove('stale');
    document.documentElement.dataset.variants = String(names.length);
  }
  function besideTable(table, names, sides) {
    add(table, 'caption', {}, `Strings: pipe to shoe, TVD in ${metric ? 'm' : 'ft'}, mud in ${metric ? 'sg' : 'ppg'}`);
    row(add(table, 'thead'), ['', ...names], true);
    const body = add(table, 'tbody');
    const totals = (make) => sides.map((s) => (s.program ? make(s.program.totals, s.program) : '-'));
    row(body, ['Runnable', ...totals((t, p) => (p.runnable ? 'yes' : 'NOT RUNNABLE'))]);
    row(body, ['Cost', ...totals((t) => money(t))]);
    row(body, ['Days', ...totals((t) => (t.days === undefined ? '-' : t.days.toFixed(1)))]);
    row(body, ['Steel, t', ...totals((t) => t.steel_t.toFixed(1))]);
    const cell = (s) => `${inches(s.od_in)}${s.type === 'full' ? '' : ` ${s.type}`} to ${ft(s.shoe_tvd_ft)}${s.mud_ppg === undefined ? '' : `, ${show('density', s.mud_ppg * UNITS.density.ppg, false)}`}`;
    const first = sides[0].program;
    const at = (side, k) => (side.program ? side.program.strings.find((s, n) => (side === sides[0] ? n : Number(side.partners[n])) === k && side.partners[n] !== '-') : undefined);
    if (first) first.strings.forEach((s, k) => row(body, [nameOf(first, k), ...sides.map((side) => { const t = at(side, k); return t ? cell(t) : '-'; })]));
    sides.forEach((side, i) => { if (i > 0 && side.program) side.program.strings.forEach((s, n) => { if (side.partners[n] === '-') row(body, [`${nameOf(side.program, n)}, new`, ...sides.map((q) => (q === side ? cell(s) : '-'))]); }); });
    for (const tr of body.children) [...tr.children].slice(2).forEach((td) => { if (td.textContent !== tr.children[1].textContent) td.classList.add('other'); });
  }
  // The engine's lines, code, what it is about, words, under what they are about.
  function changesList(parent, found) {
    if (found.length === 0) { add(parent, 'p', {}, 'Nothing differs that is shown.'); return; }
    let about = null;
    let list = null;
    for (const line of found) {
      const [, where, words] = line.split('\t');
      if (where !== about) { add(parent, 'h4', {}, where); list = add(parent, 'ul'); about = where; }
      add(list, 'li', {}, words);
    }
  }

  // ---- saving ----
  function download(name, content, type) {
    const link = document.createElement('a');
    link.href = URL.createObjectURL(new Blob([content], { type }));
    link.download = name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60000);
  }
  const ascii = (words) => words.replace(/[<>&\u007f-\uffff]/g, (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}`);
  function copyOfPage() {
    const now = { shown: wells.indexOf(well), units: metric, bases: meeting.bases || [], catalogue: meeting.catalogue || [], wells: wells.map((w) => ({ file: w.file, text: toBase64(encode(w.history[w.at], w.single)), kept: w.kept.map((k) => ({ name: k.name, text: toBase64(encode(k.text, w.single)) })) })) };
    pristine.querySelector('#meeting').textContent = ascii(JSON.stringify(now));
    return `<!DOCTYPE html>\n${pristine.outerHTML}\n`;
  }
  const baseName = () => (well.file.split('/').pop() || 'well').replace(/\.xml$/, '').replace(/[^\w.-]+/g, '-');
  get('save').addEventListener('change', () => {
    const what = get('save').value;
    get('save').value = '';
    const fresh = made.of === text() && !made.quick;
    const outputs = { 'program.json': [made.json, 'application/json'], 'schematic.svg': [made.page, 'image/svg+xml'], 'window.svg': [made.window, 'image/svg+xml'], 'program.html': [made.report, 'text/html'] };
    if (what === 'page') download('meeting.html', copyOfPage(), 'text/html');
    else if (what === 'well') download(`${baseName()}.xml`, encode(text(), well.single), 'application/xml');
    else if (outputs[what] && fresh && outputs[what][0]) download(what, outputs[what][0], outputs[what][1]);
    else if (what) get('totals').textContent = 'Nothing saved: the program of this text is not there yet.';
  });
  get('print').addEventListener('click', () => window.print());

  // ---- the rest of the bar, and the text ----
  wells.forEach((w, i) => add(get('well'), 'option', { value: i }, w.file));
  get('well').value = String(wells.indexOf(well));
  get('well').addEventListener('change', () => { well = wells[Number(get('well').value)]; program = null; made = {}; chosen = null; clearProgram(); merging = null; showFields(); showKept(); get('beside').replaceChildren(); changed(); });
  const over = [bases.length ? `over the basis ${bases.map((b) => b.name).join(', then ')}` : '', ...catalogue.map((c) => `with the ${c.kind} of ${c.name}`)].filter(Boolean);
  get('bases').hidden = over.length === 0;
  get('bases').textContent = `Planned ${over.join(', ')}: the page has ${bases.length + catalogue.length > 1 ? 'them' : 'it'} inside.`;
  const SYSTEMS = ['field', 'metric', 'mixed'];
  get('units').value = SYSTEMS[metric];
  get('units').addEventListener('change', () => { metric = SYSTEMS.indexOf(get('units').value); made = {}; showFields(); changed(); });
  get('look').addEventListener('change', () => { const v = get('look').value; if (v) document.documentElement.dataset.look = v; else delete document.documentElement.dataset.look; });
  get('undo').addEventListener('click', () => step(-1));
  get('redo').addEventListener('click', () => step(1));
  document.addEventListener('keydown', (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
    const key = event.key.toLowerCase();
    if (key === 'z') { event.preventDefault(); step(event.shiftKey ? 1 : -1); } else if (key === 'y') { event.preventDefault(); step(1); }
  });
  let typing = 0;
  let typedAt = 0;
  get('text').addEventListener('input', () => {
    if (performance.now() - typedAt > 1500) typing += 1;
    typedAt = performance.now();
    edit(get('text').value, `typing ${typing}`);
  });
  get('text').addEventListener('scroll', () => { get('lines').scrollTop = get('text').scrollTop; });
  get('text').value = text();
  showKept();
  window.drawtubeTimings = timings;
  draw(); // the window at once: it needs no engine
  begin().catch((error) => { get('totals').textContent = `This browser cannot run the planner: ${error.message}`; });
})();
