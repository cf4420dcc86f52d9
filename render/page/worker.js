// SPDX-License-Identifier: MIT
// A worker of the live page: one engine. Behind engine.js in the same text.
let engine = null;
const words = (bytes) => (bytes ? new TextDecoder().decode(bytes) : null);

// { id, text, file, metric, make: { key: [output, index] } } -> { id, early, findings }, then { id, read, status, refusal, made }
function work(job) {
  const answer = { id: job.id, read: engine.check(job.text, job.file), status: 'refused', made: {} };
  // findings at once: the plan may take longer
  self.postMessage({ id: job.id, early: true, findings: words(engine.make('findings')) || '' });
  if (answer.read === 'ok' && job.plan) answer.status = engine.plan();
  if (answer.read === 'ok' && job.compare) {
    const plan = engine.plan();
    answer.status = plan === 'ok' ? engine.compare() : plan;
  }
  answer.refusal = words(engine.make('refusal', 0, job.metric)) || '';
  for (const [key, [output, index]] of Object.entries(job.make)) answer.made[key] = words(engine.make(output, index, job.metric));
  return answer;
}

self.onmessage = ({ data }) => {
  if (data.module) { engine = makeEngine(data.module); self.postMessage({ ready: true }); return; }
  try {
    self.postMessage(work(data));
  } catch (error) { // an engine that broke is not asked again
    self.postMessage({ id: data.id, broken: String(error && error.message), made: {} });
  }
};
