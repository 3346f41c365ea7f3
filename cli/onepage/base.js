// What every part of the page uses: elements, what is kept on this device, and the worker that runs
// the command.
const DATA = JSON.parse(document.getElementById("data").textContent);
const $ = (id) => document.getElementById(id);

function make(tag, attributes = {}, ...inside) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (typeof value === "function") element.addEventListener(name.replace(/^on/, ""), value);
    else if (value === true) element.setAttribute(name, "");
    else if (value !== false && value !== undefined && value !== null) element.setAttribute(name, value);
  }
  element.append(...inside);
  return element;
}

const button = (words, onclick, attributes = {}) => make("button", { type: "button", onclick, ...attributes }, words);

/** The profile as it stands, the files beside it, and what the command said of it last. */
const state = { text: "", file: "my-engine.toml", beside: {}, id: "", checked: null };

function fault(text) {
  $("fault").hidden = !text;
  $("fault").textContent = text;
}

const failed = (error) => fault(error.message);
/** A listener whose failures are shown. */
const shown = (action) => (...given) => Promise.resolve(action(...given)).catch(failed);

// Nobody but the reader's own browser keeps anything; where it keeps nothing, the page says so.
const kept = {
  read(key, otherwise) {
    try { return JSON.parse(localStorage.getItem(key)) ?? otherwise; } catch { return otherwise; }
  },
  write(key, value) {
    try { localStorage.setItem(key, JSON.stringify(value)); return true; } catch { return false; }
  },
};

const PROFILES = "twoturn.profiles";
const MOST_KEPT = 8;
const PAST_KEPT = 8;
const past = []; // what the text was, for "Undo"

/** Keeps the profile under its own number, the newest first. */
function keep() {
  const others = kept.read(PROFILES, []).filter((one) => one.id !== state.id).slice(0, MOST_KEPT - 1);
  const { id, text, file, beside } = state;
  state.unsaved = !kept.write(PROFILES, [{ id, text, file, beside, past: past.slice(-PAST_KEPT) }, ...others]);
  if (state.unsaved) fault("This browser keeps nothing for this page (a private window, perhaps): save the profile before you close it.");
}

let worker = null;
let runs = 0;
const waiting = new Map();
const TOO_OLD = "This browser is too old to work anything out here: it lacks WebAssembly, or the parts of it that this page needs. Nothing you have is lost; open the same file in a newer browser, or on another device.";

const ready = new Promise((resolve, reject) => {
  if (typeof WebAssembly !== "object" || typeof DecompressionStream !== "function") {
    reject(new Error(TOO_OLD));
    return;
  }
  const code = URL.createObjectURL(new Blob([$("engine").textContent], { type: "text/javascript" }));
  worker = new Worker(code);
  worker.onmessage = ({ data }) => {
    if (data.ready) resolve();
    else if (data.id === undefined) reject(new Error(`${TOO_OLD} (${data.fault})`));
    else {
      waiting.get(data.id)?.(data);
      waiting.delete(data.id);
    }
  };
  worker.onerror = (event) => reject(new Error(`The part that works things out did not start. ${event.message ?? ""}`));
  worker.postMessage({ packed: $("packed").textContent.trim() });
});
ready.catch(failed);

/** Runs one command on the profile as it stands: {code, out, err, made}, where `made` are the files
 * that it wrote. */
async function run(args, files = {}) {
  await ready;
  const id = runs += 1;
  const done = new Promise((resolve) => { waiting.set(id, resolve); });
  worker.postMessage({ id, args, files: { ...DATA.tables, ...state.beside, "profile.toml": state.text, ...files } });
  const answer = await done;
  if (answer.fault) throw new Error(`The part that works things out failed: ${answer.fault}`);
  return answer;
}

/** Calls made while one is under way become one more, the last. */
function lastOnly(action) {
  let busy = false;
  let again = false;
  return async () => {
    if (busy) { again = true; return; }
    busy = true;
    try {
      do {
        again = false;
        await action();
      } while (again);
    } finally {
      busy = false;
    }
  };
}

/** What is done once, however often it is asked for, also while it is under way. */
function once(action) {
  let done = null;
  return () => (done ??= action());
}

// What the command answers whatever the profile.
const documentOnce = (args) => once(() => run(args).then(({ out }) => JSON.parse(out)));
const everyCommand = documentOnce(["commands", "--json"]);
const everySketch = documentOnce(["starter", "--json"]);

/** Makes a text into a file of the reader's own. */
function save([name, text, type]) {
  const url = URL.createObjectURL(new Blob([text], { type }));
  const link = make("a", { href: url, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(url), 10000);
}

async function share([name, text, type]) {
  const file = new File([text], name, { type: type === "application/toml" ? "text/plain" : type });
  try { await navigator.share({ files: [file], title: name }); } catch (error) {
    if (error.name !== "AbortError") save([name, text, type]);
  }
}
