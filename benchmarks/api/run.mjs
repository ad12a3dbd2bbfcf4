// SPDX-License-Identifier: Apache-2.0
// node run.mjs OUT.json: the workbench under 64 connections for a minute, all asking without a pause:
// every answer is compared with the first one to its question, and the server's memory is watched;
// writes [{figure, reach, measured}]. COMBWRIGHT names the program, SECONDS another time.
import { readFile, rm, writeFile } from 'node:fs/promises';
import { Agent, request } from 'node:http';
import { exampleFolder, serve } from '../../tests/page/workbench.mjs';

const connections = 64;
const seconds = Number(process.env.SECONDS ?? 60);

const tune = { box: 'bramble.toml', tune: 'bramble-waltz.musicxml' };
const questions = [
  { path: '/' },
  { path: '/api/desk' },
  { path: '/api/files/larkspur.toml' },
  { path: '/api/check', body: { box: 'larkspur.toml' } },
  { path: '/api/arrange', body: tune },
  { path: '/api/arrange', body: tune, lines: true },
  { path: '/api/disc', body: tune },
  { path: '/api/comb', body: { box: 'bramble.toml' } },
];

const folder = await exampleFolder();
const server = await serve(folder);
const agent = new Agent({ keepAlive: true, maxSockets: connections });

/** Status and bytes of an answer; of one in lines the last. */
function ask({ path, body, lines }) {
  return new Promise((resolve, reject) => {
    const headers = lines ? { Accept: 'application/x-ndjson' } : {};
    const sent = request(
      new URL(path, server.address),
      { agent, headers, method: body ? 'POST' : 'GET' },
      (reply) => {
        const chunks = [];
        reply.on('data', (chunk) => chunks.push(chunk));
        reply.on('error', reject);
        reply.on('end', () => {
          const text = Buffer.concat(chunks).toString();
          resolve(`${reply.statusCode} ${lines ? text.trimEnd().split('\n').at(-1) : text}`);
        });
      },
    );
    sent.on('error', reject);
    sent.end(body && JSON.stringify(body));
  });
}

async function memoryMb() {
  const status = await readFile(`/proc/${server.pid}/status`, 'utf8');
  return Number(/VmRSS:\s*(\d+)/.exec(status)[1]) / 1024;
}

function median(values) {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];
}

const expected = await Promise.all(questions.map(ask));
for (const [i, answer] of expected.entries())
  if (!answer.startsWith('200 ')) throw new Error(`${questions[i].path}: ${answer}`);

let answers = 0;
let errors = 0;
const memory = [];
const end = performance.now() + 1000 * seconds;

async function connection(first) {
  for (let i = first; performance.now() < end; ++i) {
    const which = i % questions.length;
    const answer = await ask(questions[which]).catch((error) => String(error));
    ++answers;
    if (answer === expected[which]) continue;
    ++errors;
    if (errors === 1) console.log(`${questions[which].path}: ${answer.slice(0, 200)}`);
  }
}

const watching = setInterval(async () => memory.push(await memoryMb()), 500);
await Promise.all(Array.from({ length: connections }, (_, i) => connection(i)));
clearInterval(watching);
agent.destroy();
await server.stop();
await rm(folder, { recursive: true });

// What the first third needed, against the last.
const third = Math.floor(memory.length / 3);
const before = median(memory.slice(0, third));
const after = median(memory.slice(-third));
const figures = [
  {
    figure: `API under ${connections} connections for ${seconds} s, errors in ${answers} answers`,
    reach: '0',
    measured: String(errors),
  },
  {
    figure: 'its memory at the end, over that at the beginning',
    reach: '<= 5 %',
    measured: `${(100 * (after / before - 1)).toFixed(1)} % of ${before.toFixed(0)} MB`,
  },
];
for (const row of figures) console.log(`${row.figure}: ${row.measured} (reach ${row.reach})`);
await writeFile(process.argv[2], JSON.stringify(figures));
