// SPDX-License-Identifier: MIT
// The planner as a WebAssembly module, behind a few calls. Runs in the page's workers and in the tests (node).
'use strict';
const ENGINE_STATUS = ['ok', 'domain', 'refused', 'none', 'memory', 'io', 'stopped'];
const ENGINE_LISTS = ['pipe', 'bits', 'stock'];
const ENGINE_OUTPUTS = ['findings', 'refusal', 'json', 'table', 'schematic', 'window', 'course', 'strength', 'sheet',
  'report', 'comparisonJson', 'comparisonDrawing', 'comparisonPage', 'noComparison', 'oddsJson', 'certainty', 'changes', 'partners', 'changesDrawing', 'version'];

// There is no system to call: every call answers "not supported" but for the few that the C library makes when it starts.
function engineImports(module, memory) {
  const view = () => new DataView(memory().buffer);
  const known = {
    environ_sizes_get: (count, size) => { view().setUint32(count, 0, true); view().setUint32(size, 0, true); return 0; },
    environ_get: () => 0,
    clock_time_get: (id, precision, at) => { view().setBigUint64(at, 0n, true); return 0; },
    fd_prestat_get: () => 8, // no such descriptor: no folder is open
    proc_exit: (code) => { throw new Error(`the engine ended with ${code}`); },
  };
  const imports = {};
  for (const { module: from, name } of WebAssembly.Module.imports(module)) {
    imports[from] = imports[from] || {};
    imports[from][name] = known[name] || (() => 52);
  }
  return imports;
}

/** An engine of a compiled module: text in, results out. All texts are bytes (Uint8Array). */
function makeEngine(module) {
  let calls = null;
  calls = new WebAssembly.Instance(module, engineImports(module, () => calls.memory)).exports;
  calls._initialize();
  const desk = calls.page_open();
  if (!desk) throw new Error('out of memory');
  const bytesAt = (at, size) => new Uint8Array(calls.memory.buffer, at, size);
  const word = (status) => ENGINE_STATUS[status];
  const putName = (words) => {
    const at = calls.page_name(desk);
    bytesAt(at, 512).fill(0);
    bytesAt(at, 512).set(new TextEncoder().encode(words).subarray(0, 511));
  };
  const putText = (text) => {
    const room = calls.page_room(desk, text.length);
    if (room) bytesAt(room, text.length).set(text);
    return Boolean(room);
  };
  return {
    check(text, file) {
      putName(file);
      return putText(text) ? word(calls.page_check(desk, text.length)) : 'memory';
    },
    /** A basis over what the wells name, as --basis has it: of a text, or (null) one of ours by its name. */
    stack(name, text) {
      putName(name);
      if (text && !putText(text)) return 'memory';
      return word(calls.page_stack(desk, text ? text.length : 0));
    },
    /** A list of one's own over the catalogue, as --pipe, --bits and --stock have it; before the first plan. */
    list(kind, name, text) {
      putName(name);
      return putText(text) ? word(calls.page_list(desk, ENGINE_LISTS.indexOf(kind), text.length)) : 'memory';
    },
    plan: () => word(calls.page_plan(desk)),
    compare: () => word(calls.page_compare(desk)),
    odds: (samples) => word(calls.page_odds(desk, samples)),
    /** Takes the program off the desk under a name: the first is the one that the next are held against. */
    setAside(name) { putName(name); return word(calls.page_set_aside(desk)); },
    clearSides() { calls.page_clear_sides(desk); },
    /** Bytes of an output, or null where there is none. */
    make(output, index, metric) {
      if (calls.page_make(desk, ENGINE_OUTPUTS.indexOf(output), index || 0, Number(metric || 0)) !== 0) return null;
      return bytesAt(calls.page_made(desk), calls.page_made_size(desk)).slice();
    },
  };
}
if (typeof module !== 'undefined') module.exports = { makeEngine };
