// Pages that the command makes, each in a frame; what was ticked on them stays.
const ticksKey = () => `twoturn.ticks ${state.id} ${$("sheet-kind").value}`;

function asLongAsItIs(frame) {
  const page = frame.contentDocument;
  const fit = () => { frame.style.height = `${page.documentElement.scrollHeight + 4}px`; };
  frame.style.height = "60vh";
  fit();
  new ResizeObserver(fit).observe(page.body);
}

/** Shows what a command made in the frame of that name: a page as one, anything else as text. Each
 * in a frame of its own, so that no page is taken for the one before it. */
function framed(id, made, afterwards) {
  const old = $(id);
  const frame = old.cloneNode(false);
  const page = /^\s*<!doctype/i.test(made);
  frame.made = made;
  frame.onload = () => {
    const inside = frame.contentDocument;
    if (!page) inside.querySelector("pre").textContent = made;
    else afterwards?.(inside);
    if (!frame.classList.contains("window")) asLongAsItIs(frame);
  };
  frame.srcdoc = page ? made : '<!DOCTYPE html><html lang="en"><title>Twoturn</title><pre style="white-space:pre;overflow-x:auto;font-size:.95rem"></pre></html>';
  old.replaceWith(frame);
  return frame;
}

/** Ticks and words by what stands beside them: where a sheet changes, none lands at another line. */
function keepTicks(page) {
  const seen = new Map();
  const inputs = [...page.querySelectorAll("input")].map((input) => {
    const beside = (input.closest("li, tr, label, p") ?? input).textContent.trim().replace(/\s+/g, " ");
    const count = (seen.get(beside) ?? 0) + 1;
    seen.set(beside, count);
    return [`${beside} ${count}`, input];
  });
  const held = kept.read(ticksKey(), {});
  for (const [name, input] of inputs) {
    if (held[name] === undefined) continue;
    if (input.type === "checkbox") input.checked = held[name];
    else input.value = held[name];
  }
  page.addEventListener("input", () => {
    const now = inputs.map(([name, input]) => [name, input.type === "checkbox" ? input.checked : input.value]).filter(([, value]) => value);
    kept.write(ticksKey(), Object.fromEntries(now));
    keep();
  });
}

/** The sheet that was chosen; one that is a page because its file is named so is read back. */
async function showSheet() {
  const args = $("sheet-kind").value.split(" ").map((word) => (word === "PROFILE" ? "profile.toml" : word));
  const { out, err, made } = await run(args);
  framed("sheet-frame", Object.values(made)[0] ?? (out || err), keepTicks);
}

async function showReport() {
  const { out, err } = await run(["report", "profile.toml"]);
  framed("report-frame", out || err);
}

const stem = () => state.file.replace(/\.toml$/i, "");
const typeOf = (text) => (/^\s*<!doctype/i.test(text) ? ["html", "text/html"] : /^\s*<(\?xml|svg)/.test(text) ? ["svg", "image/svg+xml"]
  : /^\s*\{/.test(text) ? ["json", "application/json"] : ["txt", "text/plain"]);

function documentOf(text, name) {
  const [ending, type] = typeOf(text);
  return [`${stem()}-${name}.${ending}`, text, type];
}

/** What "Save", "Share" and "Print" of each view are about. */
const MADE = {
  sheet: () => documentOf($("sheet-frame").made ?? "", $("sheet-kind").selectedOptions[0].textContent.replace(/ /g, "-")),
  report: () => documentOf($("report-frame").made ?? "", "report"),
  more: () => documentOf($("more-frame").made ?? "", $("command").value),
  text: () => { state.unsaved = false; return [state.file, state.text, "application/toml"]; },
};

// A profile is printed as it is written.
function printView(view) {
  if (view !== "text") $(`${view}-frame`).contentWindow.print();
  else framed("print-frame", state.text).addEventListener("load", () => $("print-frame").contentWindow.print());
}

// ---- the profile as text, its errors at their lines

function showSlips() {
  const problems = state.checked?.error?.problems ?? [];
  $("slips").replaceChildren(...problems.map((one) => make("li", { class: "slip" },
    `Line ${one.line ?? "?"}: ${[one.key, slipWords(one)].filter(Boolean).join(": ")} `,
    one.line ? button("Show it", () => toLine(one.line)) : "")));
  showLineNumbers();
}

/** A number for every line; those with a slip carry a sign. */
function showLineNumbers() {
  const slips = new Set((state.checked?.error?.problems ?? []).map((one) => one.line));
  const count = $("profile").value.split("\n").length;
  $("lines").textContent = Array.from({ length: count }, (_, i) => (slips.has(i + 1) ? `\u25b6${i + 1}` : String(i + 1))).join("\n");
}

function toLine(line) {
  const box = $("profile");
  const lines = box.value.split("\n");
  const from = lines.slice(0, line - 1).join("\n").length + (line > 1 ? 1 : 0);
  box.focus();
  box.setSelectionRange(from, from + (lines[line - 1] ?? "").length);
  box.scrollTop = (line - 4) * parseFloat(getComputedStyle(box).lineHeight);
}

function showText() {
  if ($("profile").value !== state.text) $("profile").value = state.text;
  showSlips();
  showBeside();
}

// ---- files beside the profile: tables that it names, readings of a face, a record of the job

function showBeside() {
  const names = Object.keys({ ...DATA.tables, ...state.beside });
  $("files").replaceChildren(...names.map((name) => make("option", { value: name })));
  $("beside-list").replaceChildren(...Object.keys(state.beside).map((name) => make("li", {}, `${name} `,
    button("Edit", () => editBeside(name)), " ", button("Save", () => save([name, state.beside[name], "text/plain"])), " ",
    button("Take away", () => { delete state.beside[name]; keep(); showBeside(); check(); }))));
}

function editBeside(name) {
  $("beside-name").value = name;
  $("beside-text").value = state.beside[name] ?? "";
  $("beside-edit").open = true;
  $("beside-text").focus();
}

function putBeside() {
  const name = $("beside-name").value.trim();
  if (!/^[^/\\]+$/.test(name) || name === "profile.toml") { fault("Give the file a plain name, such as head.csv."); return; }
  fault("");
  state.beside[name] = $("beside-text").value;
  keep();
  showBeside();
  check();
}
