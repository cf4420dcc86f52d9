// SPDX-License-Identifier: MIT
// A worker of the live page: one engine. Behind engine.js in the same text.
let engine = null;
const words = (bytes) => (bytes ? new TextDecoder().decode(bytes) : null);

// { id, text, file, metric, make: { key: [output, index] } } -> { id, early, findings }, then { id, read, status, refusal, made }
// whole: the text with its spreads, where the one to be planned has lost them: findings are of that.
function work(job) {
  const answer = { id: job.id, read: engine.check(job.whole || job.text, job.file), status: 'refused', made: {} };
  // findings at once: the plan may take longer
  self.postMessage({ id: job.id, early: true, findings: words(engine.make('findings')) || '' });
  if (job.whole && answer.read === 'ok') answer.read = engine.check(job.text, job.file);
  if (answer.read === 'ok' && job.plan) answer.status = engine.plan();
  if (answer.read === 'ok' && job.compare) {
    const plan = engine.plan();
    answer.status = plan === 'ok' ? engine.compare() : plan;
  }
  answer.refusal = words(engine.make('refusal', 0, job.metric)) || '';
  for (const [key, [output, index]] of Object.entries(job.make)) answer.made[key] = words(engine.make(output, index, job.metric));
  return answer;
}

// { id, beside: [{ name, text }], file, metric } -> { id, sides: [{ json, refusal, at, changes, partners }], drawing }
// The first is the one the others are held against; changes and partners are lines of the engine.
function beside(job) {
  engine.clearSides();
  let count = 0;
  const sides = job.beside.map(({ name, text }, i) => {
    const read = engine.check(text, job.file);
    if (read === 'ok') engine.plan();
    const side = { json: words(engine.make('json')), refusal: words(engine.make('refusal', 0, job.metric)) || '', changes: null, partners: null };
    if (i > 0 && count === 0) return side; // nothing to be held against
    if (!side.json || engine.setAside(name) !== 'ok') return side;
    if (i > 0) { side.changes = words(engine.make('changes', count, job.metric)); side.partners = words(engine.make('partners', count, job.metric)); }
    count += 1;
    return side;
  });
  const answer = { id: job.id, sides, drawing: words(engine.make('changesDrawing', 0, job.metric)) };
  engine.clearSides();
  return answer;
}

self.onmessage = ({ data }) => {
  if (data.module) { engine = makeEngine(data.module); for (const b of data.bases) engine.stack(b.name, b.text); for (const c of data.catalogue) engine.list(c.kind, c.name, c.text); self.postMessage({ ready: true }); return; }
  try {
    self.postMessage(data.beside ? beside(data) : work(data));
  } catch (error) { // an engine that broke is not asked again
    self.postMessage({ id: data.id, broken: String(error && error.message), made: {} });
  }
};
