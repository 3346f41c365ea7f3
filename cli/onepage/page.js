// The page as a whole: which view is open, which profile, and what happens when it changes.
const VIEWS = ["start", "setup", "answer", "form", "sheet", "report", "more", "text"];
const OPEN = VIEWS.slice(2);
const REFRESH = { setup: drawSetup, answer: showAnswer, form: drawForm, sheet: showSheet, report: showReport, more: showMore, text: showText };
const CHANGE_MS = 100;
const MOST_UNDONE = 60;
const MOST_BYTES = 4 << 20;

function viewNow() {
  const view = location.hash.slice(2);
  return VIEWS.includes(view) && !(OPEN.includes(view) && !state.text) ? view : "start";
}

const refresh = async () => { await REFRESH[viewNow()]?.(); };

function show() {
  const view = viewNow();
  for (const name of VIEWS) $(name).hidden = name !== view;
  const working = OPEN.includes(view);
  for (const id of ["views", "verdict", "title"]) $(id).hidden = !working;
  for (const link of $("views").children) {
    if (link.hash === `#/${view}`) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
  }
  if (view === "start") drawStart();
}

function open() {
  show();
  refresh().catch(failed);
  if (viewNow() === "form" && arrive()) return;
  scrollTo(0, 0);
  $(viewNow()).querySelector("h1").focus({ preventScroll: true });
}

// ---- the profile

const newId = () => `${Date.now().toString(36)}-${Math.random().toString(36).slice(2)}`;

function take(text, { file = state.file, beside = {}, id = newId(), past: before = [] } = {}) {
  Object.assign(state, { text, file, beside, id, checked: null });
  past.splice(0, past.length, ...before);
  at = kept.read(`twoturn.at ${id}`, 0);
  draft = null;
  $("profile").value = "";
  $("headline").textContent = "Working it out …";
  $("title").textContent = "";
  fault("");
  check();
}

function change(text) {
  if (text === state.text) return;
  past.push(state.text);
  if (past.length > MOST_UNDONE) past.shift();
  putText(text);
}

function putText(text) {
  state.text = text;
  keep();
  $("undo").disabled = past.length === 0;
  $("verdict").classList.add("old");
  clearTimeout(putText.later);
  putText.later = setTimeout(check, CHANGE_MS);
}

function undo() {
  if (past.length === 0) return;
  putText(past.pop());
  drawForm();
}

const titleOf = (text, otherwise) => text.match(/^title\s*=\s*"(.*)"/m)?.[1] || otherwise;

function drawStart() {
  $("again").replaceChildren(...kept.read(PROFILES, []).map((one) => make("li", {}, button(`Go on with ${titleOf(one.text, one.file)}`, () => {
    take(one.text, one);
    location.hash = "#/form";
  }), " ", forgetButton(one))));
}

/** Twice, since nothing brings it back. */
function forgetButton({ id }) {
  let sure = false;
  const forget = button("Forget", () => {
    if (sure) {
      kept.write(PROFILES, kept.read(PROFILES, []).filter((one) => one.id !== id));
      drawStart();
    }
    sure = true;
    forget.textContent = "Forget it for good?";
  });
  return forget;
}

async function openFile(file) {
  const refuse = (why) => { $("start-slip").hidden = !why; $("start-slip").textContent = why; };
  refuse("");
  if (file.size > MOST_BYTES) { refuse(`${file.name} has ${Math.ceil(file.size / 1e6)} MB: no profile is so large. Nothing was changed.`); return; }
  const bytes = new Uint8Array(await file.arrayBuffer());
  let text = "";
  try { text = new TextDecoder("utf-8", { fatal: true }).decode(bytes); } catch {
    refuse(`${file.name} is no text: a profile is a text file, most often ending in .toml. Nothing was changed.`);
    return;
  }
  take(text.replace(/\r\n/g, "\n"), { file: file.name });
  keep();
  location.hash = "#/text";
}

function listen() {
  addEventListener("hashchange", open);
  addEventListener("beforeunload", (event) => { if (state.unsaved) event.preventDefault(); });
  $("one").addEventListener("change", () => { kept.write("twoturn.one", $("one").checked); oneAtATime(); });
  $("on").addEventListener("click", () => step(1));
  $("back").addEventListener("click", () => step(-1));
  $("undo").addEventListener("click", undo);
  $("profile").addEventListener("input", () => { change($("profile").value); showLineNumbers(); });
  $("profile").addEventListener("scroll", () => { $("lines").scrollTop = $("profile").scrollTop; });
  $("sheet-kind").addEventListener("change", shown(showSheet));
  $("begin").addEventListener("click", shown(begin));
  $("setup-paper").addEventListener("click", shown(async () => {
    const { out } = await run(["starter", "--paper", ...await setupArgs()]);
    save(["questions.txt", out, "text/plain"]);
  }));
  $("command").addEventListener("change", shown(drawOptions));
  $("go").addEventListener("click", shown(runAny));
  for (const form of [$("setup-form"), $("options")]) form.addEventListener("submit", (event) => event.preventDefault());
  $("open").addEventListener("change", shown(async () => { if ($("open").files[0]) await openFile($("open").files[0]); $("open").value = ""; }));
  $("beside").addEventListener("change", shown(async () => {
    for (const file of $("beside").files) state.beside[file.name] = await file.text();
    keep();
    showBeside();
    check();
  }));
  $("beside-put").addEventListener("click", putBeside);
  for (const [view, made] of Object.entries(MADE)) {
    $(view).querySelector(".save")?.addEventListener("click", () => save(made()));
    const sharing = $(view).querySelector(".share");
    if (sharing && navigator.share) { sharing.hidden = false; sharing.addEventListener("click", () => share(made())); }
    $(view).querySelector(".print")?.addEventListener("click", () => printView(view));
  }
}

function begun() {
  listen();
  $("one").checked = kept.read("twoturn.one", innerWidth < 700);
  for (const [name, text] of Object.entries(DATA.demos)) {
    $("demos").append(make("li", {}, button(titleOf(text, name), () => {
      take(text, { file: name });
      location.hash = "#/answer";
    })));
  }
  const [last] = kept.read(PROFILES, []);
  if (last && OPEN.includes(location.hash.slice(2))) take(last.text, last);
  $("too-old").remove();
  open();
}
begun();
