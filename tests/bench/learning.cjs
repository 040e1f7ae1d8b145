// tests/bench/learning.cjs - runs the solver that the npm package "minizinc" carries, once, with files.
//
//   node learning.cjs DIST FLAT FILE... -- ARGUMENT...
//
// DIST is the package's folder dist/. Under node the package starts a MiniZinc of the system; what it
// carries itself is a WebAssembly module for a browser's worker, which is given here the two functions
// that it knows its page by. It sees copies of the FILEs, by their base names; if it writes
// one of FLAT's base name, that is written to FLAT. What it says comes out as
// a line of JSON each, at once, so that nothing is lost when it is stopped.
'use strict';
const fs = require('fs');
const path = require('path');

const [dist, flat, ...rest] = process.argv.slice(2);
const cut = rest.indexOf('--');
if (cut < 0) {
  fs.writeSync(2, 'usage: node learning.cjs DIST FLAT FILE... -- ARGUMENT...\n');
  process.exit(2);
}
const files = {};
for (const file of rest.slice(0, cut))
  files[path.basename(file)] = fs.readFileSync(file, 'utf8');

let listen = null;
globalThis.addEventListener = (kind, listener) => {
  listen = listener;
};
globalThis.postMessage = message => {
  if (message.type === 'ready') {
    const args = rest.slice(cut + 1);
    listen({ data: { jsonStream: true, files, args, outputFiles: [path.basename(flat)] } });
    return;
  }
  const made = message.outputFiles && message.outputFiles[path.basename(flat)];
  delete message.outputFiles;
  if (made)
    fs.writeFileSync(flat, made);
  fs.writeSync(1, JSON.stringify(message) + '\n');
  if (message.type === 'exit')
    process.exit(message.code === 0 ? 0 : 1);
};
const worker = path.resolve(dist, 'minizinc-worker.js');
new Function('require', '__filename', '__dirname', fs.readFileSync(worker, 'utf8'))(
  require, worker, path.dirname(worker));
listen({ data: {
  wasmURL: path.resolve(dist, 'minizinc.wasm'),
  dataURL: path.resolve(dist, 'minizinc.data'),
} });
