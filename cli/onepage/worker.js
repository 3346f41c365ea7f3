// The command in a worker: files in, one command line, what it prints and writes out. Knows no
// mechanics.
"use strict";

let engine = null;
const out = [];
const err = [];

/** What was packed and written as base64. */
async function inflated(letters) {
  const packed = atob(letters);
  const bytes = new Uint8Array(packed.length);
  for (let i = 0; i < packed.length; i += 1) bytes[i] = packed.charCodeAt(i);
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  return new Uint8Array(await new Response(stream).arrayBuffer());
}

let wasm = null;

async function start() {
  engine = await createTwoturn({
    wasmBinary: wasm,
    noInitialRun: true,
    preRun: [(self) => self.FS.init(() => null, (byte) => out.push(byte), (byte) => err.push(byte))],
  });
  engine.FS.mkdir("/work");
  engine.FS.chdir("/work");
}

const text = (bytes) => new TextDecoder().decode(new Uint8Array(bytes.splice(0)));
const here = () => engine.FS.readdir(".").filter((name) => !/^\.\.?$/.test(name));

/** One command: {args, files: {name: text}} -> {code, out, err, made: {name: text}}. */
function ran({ args, files }) {
  out.length = 0; // what a run that failed had printed
  err.length = 0;
  for (const name of here()) engine.FS.unlink(name);
  for (const [name, content] of Object.entries(files)) engine.FS.writeFile(name, content);
  const code = engine.callMain(args);
  const made = here().filter((name) => !(name in files)).map((name) => {
    engine.FS.chmod(name, 0o666); // files in memory are made without leave to be read
    return [name, engine.FS.readFile(name, { encoding: "utf8" })];
  });
  return { code, out: text(out), err: text(err), made: Object.fromEntries(made) };
}

async function answer(data) {
  try {
    if (data.packed) {
      wasm = await inflated(data.packed);
      await start();
      self.postMessage({ ready: true });
    } else {
      self.postMessage({ id: data.id, ...ran(data) });
    }
  } catch (error) {
    if (engine) await start(); // what failed in the middle is in no state to go on
    self.postMessage({ id: data.id, fault: String(error?.message ?? error) });
  }
}

let queue = Promise.resolve(); // one after the other, also while it starts anew
self.onmessage = ({ data }) => { queue = queue.then(() => answer(data)); };
