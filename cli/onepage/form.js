// "My engine": one field for each line of the profile's text. What a field asks stands in the text
// itself or in the schema; what it may hold, in the schema; its sketch comes from the command.
const known = (table, key) => schemaOf(DATA.schema, table, key) !== null;
const tables = () => tablesOf(state.text, known);
// What a person fills in: these two keep the book for the others.
const asksIn = (table) => !["example", "origin"].includes(table.name);
const LENGTHS = ["mm", "in", "thou"];
const TYPING_MS = 600;
let numbered = 0;
let at = 0; // which question, one at a time

function question(field, spec) {
  const said = field.about.join(" ").trim().replace(/^\d+\.\s*/, "");
  return said || spec?.description || field.key;
}

function valueInput(field, spec, id) {
  const kind = kindOf(spec);
  const value = field.left_out ? "" : shownValue(field.value, kind);
  if (kind === "words" || kind === "flag") {
    const words = kind === "flag" ? ["true", "false"] : spec.enum;
    const select = make("select", { id, class: "value" }, make("option", { value: "" }, "not answered"),
      ...words.map((word) => make("option", { value: word }, { true: "yes", false: "no" }[word] ?? word)));
    if (value && !words.includes(value)) select.append(make("option", { value }, value));
    select.value = value;
    return select;
  }
  // A phone's keys for numbers may lack the minus and the colon.
  const digits = kind === "number" && spec.minimum >= 0 && !/_deg$/.test(field.key);
  return make("input", { id, type: "text", value, inputmode: digits ? "decimal" : false,
    autocomplete: "off", autocapitalize: "off", spellcheck: "false" });
}

/** What was typed for a key that the schema knows so, as a value of the format. */
function valueOf(typed, spec) {
  const kind = kindOf(spec);
  return typedValue(typed, kind === "words" ? "text" : kind === "flag" ? "any" : kind);
}

/** The field in the text as it stands now; values change lines, but neither tables nor their order. */
function fieldNow(element) {
  const table = tables()[Number(element.dataset.table)];
  return { table, field: table.fields[Number(element.dataset.field)] };
}

/** What was typed, into the text; another unit only once typing is done, since the field is then drawn anew. */
function put(element, done) {
  const ownIfTyped = () => { if (element.dataset.own && !$("verdict").classList.contains("old")) markFields(); };
  const { table, field } = fieldNow(element);
  const spec = schemaOf(DATA.schema, table.name, field.key);
  const kind = kindOf(spec);
  const typed = element.querySelector("input[type=text], select.value").value.trim();
  const same = typed === (field.left_out ? "" : shownValue(field.value, kind));
  if (done && element.dataset.typed && typed !== "") element.dataset.own = "yes";
  if (same) { ownIfTyped(); return; }
  if (typed === "") { change(withValue(state.text, field, "")); return; }
  const apart = unitTyped(field.key, typed, (key) => known(table.name, key));
  if (apart.key !== field.key && !done) return;
  const text = withValue(state.text, field, valueOf(apart.typed, spec));
  if (text === state.text) { ownIfTyped(); return; }
  if (apart.key === field.key) { change(text); return; }
  change(withKey(text, field, apart.key));
  drawForm();
}

function unitChoice(table, field, element) {
  const unit = field.key.match(UNIT)?.[1];
  if (!LENGTHS.includes(unit)) return unit ? make("span", {}, unit.replace("lbf_ft", "lbf ft").replace(/_per_/, "/")) : "";
  const units = make("select", { "aria-label": `unit of ${field.key}`, onchange: () => {
    const now = fieldNow(element);
    change(withKey(state.text, now.field, now.field.key.replace(UNIT, `_${units.value}`)));
    drawForm();
  } }, ...LENGTHS.filter((one) => known(table.name, field.key.replace(UNIT, `_${one}`)))
    .map((one) => make("option", { value: one }, one)));
  units.value = unit;
  return units;
}

function fieldElement(table, field, place) {
  const spec = schemaOf(DATA.schema, table.name, field.key);
  const id = `f${numbered += 1}`;
  const input = valueInput(field, spec, id);
  input.setAttribute("aria-describedby", `${id}-said`);
  const element = make("div", { class: "field", "data-path": pathOf(table, field), "data-plain": plainPathOf(table, field.key),
    "data-table": place[0], "data-field": place[1], "data-asked": /^\d+\./.test(field.about.join(" ")) && "yes" });
  let later = 0;
  input.addEventListener("input", () => { element.dataset.typed = "yes"; clearTimeout(later); later = setTimeout(() => put(element, false), TYPING_MS); });
  for (const event of ["change", "blur"]) input.addEventListener(event, () => { clearTimeout(later); put(element, true); });
  element.append(
    make("label", { for: id }, make("span", { class: "question" }, question(field, spec)), make("span", { class: "key" }, field.key)),
    make("div", { class: "row" }, input, unitChoice(table, field, element)),
    make("span", { class: "said", id: `${id}-said` }), make("p", { class: "opens", hidden: true }), sketchElement(element));
  element.addEventListener("focusin", shown(() => tellWhatItOpens(element)));
  return element;
}

/** The sketch of what is measured, opened by a tap; drawn when it is first seen. */
function sketchElement(element) {
  const details = make("details", { hidden: true }, make("summary", {}, "How to measure it"));
  details.addEventListener("toggle", shown(async () => {
    if (!details.open || details.querySelector("img")) return;
    details.append(...(await sketchesFor(element.dataset.plain)).map((sketch) =>
      make("img", { class: "sketch", alt: sketch.title, src: `data:image/svg+xml,${encodeURIComponent(sketch.svg)}` })));
  }));
  sketchesFor(element.dataset.plain).then((found) => { details.hidden = found.length === 0; }).catch(() => {});
  return details;
}

async function sketchesFor(plain) {
  const { sketches } = await everySketch();
  return sketches.filter((one) => one.keys.map(withoutUnit).includes(withoutUnit(plain)));
}

/** What waits for a number: the answers that are lost without it. */
async function tellWhatItOpens(element) {
  const box = element.querySelector(".opens");
  const { field } = fieldNow(element);
  if (box.of === state.text || !state.checked) return;
  box.of = state.text;
  const without = field.left_out ? state.text : withValue(state.text, field, "");
  const { out } = await run(["check", "profile.toml", "--json"], { "profile.toml": without });
  box.textContent = opensWords(JSON.parse(out), element.dataset.path, field.left_out);
  box.hidden = false;
}

function opensWords(without, path, left) {
  if (without.error) return "Without it nothing can be worked out.";
  const answers = (said) => new Set((said.not_checked ?? []).map((one) => one.answer));
  const have = left ? new Set() : answers(state.checked);
  const lost = left ? without.not_checked.filter((one) => withoutUnit(one.key) === withoutUnit(path)).map((one) => one.answer)
    : [...answers(without)].filter((answer) => !have.has(answer));
  if (lost.length > 0) return `It opens: ${lost.join("; ")}.`;
  return without.headline === state.checked.headline ? "No answer waits for it alone." : "The verdict hangs on it.";
}

// ---- more lines and parts

/** Keys of a table that are not there yet; those of a table within it with a point. */
function missingKeys(table) {
  const have = new Set(table.fields.map((field) => withoutUnit(field.key)));
  const own = new Set(tables().filter((one) => one.path.join(".").startsWith(`${table.path.join(".")}.`)).map((one) => one.name));
  const spec = table.name ? schemaOf(DATA.schema, "", table.name) : DATA.schema;
  return Object.keys(spec?.properties ?? {}).flatMap((key) => {
    const inside = schemaOf(DATA.schema, table.name, key)?.properties;
    if (!inside) return [key];
    const apart = !table.name || own.has(`${table.name}.${key}`) || have.has(key) || spec.properties[key].type === "array";
    return apart ? [] : Object.keys(inside).filter((below) => !inside[below].properties).map((below) => `${key}.${below}`);
  }).filter((key) => !have.has(withoutUnit(key)) && !/_(in|thou|lbf_ft)$/.test(key));
}

/** Lists within an entry: a pulley's marks. */
const listsWithin = (table) => Object.entries(schemaOf(DATA.schema, "", table.name)?.properties ?? {})
  .filter(([key, one]) => one.type === "array" && schemaOf(DATA.schema, table.name, key)?.properties).map(([key]) => key);

/** A menu that does something at once and goes back to its first words. */
function menu(words, choices, chosen) {
  const select = make("select", { class: "menu", "aria-label": words, onchange: () => {
    const { value } = select;
    select.value = "";
    if (value) chosen(value);
  } }, make("option", { value: "" }, `${words} …`),
  ...choices.map(([value, said]) => make("option", { value }, said)));
  return choices.length > 0 ? make("p", { class: "menus" }, select) : "";
}

const firstSentence = (text) => text.split(/(?<=[.;:])\s/)[0].slice(0, 70);
const choiceWords = (table, key) => {
  const about = schemaOf(DATA.schema, table, key)?.description;
  return [key, about ? `${key}: ${firstSentence(about)}` : key];
};

/** A line left out, until it is answered. */
function addField(index, key) {
  const text = withNew(state.text, tables()[index], key, '""');
  const table = tablesOf(text, known)[index];
  const field = table.fields.find((one) => one.key === key);
  change(withValue(text, field, ""));
  goOn(pathOf(table, field));
}

// A part that is not there yet stands beside the text until it is put in: half of one is no profile.
let draft = null;

/** A new part with what it cannot do without, and what is wanted of it; where its lines go, `put` says. */
function addPart(name, put, wanted = "") {
  const { properties, required = [] } = schemaOf(DATA.schema, "", name);
  const plain = Object.keys(properties).filter((key) => !properties[key].properties && !/_(in|thou|lbf_ft)$/.test(key) &&
    !schemaOf(DATA.schema, name, key)?.properties);
  const first = plain.includes(wanted) ? [wanted] : plain;
  draft = { name, put, keys: [...new Set([...required, ...first])] };
  goOn("draft");
}

const atTheEnd = (head) => (lines) => `${state.text.trimEnd()}\n\n${[head, ...lines].join("\n")}\n`;

function addTopPart(name, wanted) {
  addPart(name, atTheEnd(DATA.schema.properties[name].type === "array" ? `[[${name}]]` : `[${name}]`), wanted);
}

function draftField(name, key) {
  const spec = schemaOf(DATA.schema, name, key);
  const id = `f${numbered += 1}`;
  const input = valueInput({ key, value: "", left_out: true }, spec, id);
  input.dataset.key = key;
  const field = make("div", { class: "field", "data-plain": `${name}.${key}` },
    make("label", { for: id }, make("span", { class: "question" }, spec?.description ?? key), make("span", { class: "key" }, key)),
    make("div", { class: "row" }, input));
  field.append(sketchElement(field));
  return field;
}

/** What was answered of a new part, as lines. */
function draftLines() {
  return [...$("draft").querySelectorAll("[data-key]")].filter((input) => input.value.trim()).map((input) => {
    const apart = unitTyped(input.dataset.key, input.value, (key) => known(draft.name, key));
    return `${apart.key} = ${valueOf(apart.typed, schemaOf(DATA.schema, draft.name, input.dataset.key))}`;
  });
}

function draftElement() {
  if (!draft) return "";
  const leave = () => { draft = null; drawForm(); };
  const putIn = () => {
    const lines = draftLines();
    if (lines.length === 0) return;
    change(draft.put(lines));
    leave();
  };
  return make("fieldset", { id: "draft", class: "draft" }, make("legend", {}, `One more: ${draft.name.split(".").at(-1).replace(/_/g, " ")}`),
    ...draft.keys.map((key) => draftField(draft.name, key)),
    make("p", { class: "buttons" }, button("Put it in", putIn, { class: "main" }), button("Leave it", leave)));
}

function partMenu() {
  const have = new Set(tables().map((table) => table.name));
  const missing = Object.keys(DATA.schema.properties).filter((name) => {
    const list = DATA.schema.properties[name].type === "array";
    return schemaOf(DATA.schema, "", name)?.properties && (list || !have.has(name)) && asksIn({ name });
  });
  return menu("One more part", missing.map((name) => choiceWords("", name).map((words, i) => (i ? words.replace(/_/g, " ") : words))), addTopPart);
}

/** What can be done with one entry of a list as a whole. */
function entryMenu(table, index) {
  if (!table.list) return "";
  const all = tables();
  const first = all.findIndex((one) => one.name === table.name) === index;
  const act = { copy: withCopy, out: withoutBlock, earlier: withEarlier };
  return menu(`All of ${table.own_name || table.name}`, [["copy", "One more like it"], ["out", "Take it out"],
    ...(first ? [] : [["earlier", "Move it one place up"]]),
    ...listsWithin(table).map((key) => [key, `One more ${key.replace(/_/g, " ")} of it`])], (what) => {
    const name = `${table.name}.${what}`;
    if (act[what]) { change(act[what](state.text, all, index)); drawForm(); }
    else addPart(name, (lines) => withLines(state.text, tables(), index, [`[[${name}]]`, ...lines]));
  });
}

const SHORT = 40;
const capital = (words) => words[0].toUpperCase() + words.slice(1);

/** What a part is called: by its own comment where that is short, and whose it is. */
function legendOf(table, about) {
  const plain = table.own_name || table.path.join(" ").replace(/_/g, " ") || "the engine";
  const words = about && about.length <= SHORT ? about.replace(/[.:]$/, "") : plain;
  const owner = table.list || table.path.length < 3 ? "" : table.path[1];
  return capital(owner && !words.includes(owner) ? `${owner}: ${words[0].toLowerCase()}${words.slice(1)}` : words);
}

function drawForm() {
  const held = document.activeElement?.closest?.(".field")?.dataset.path;
  const box = $("tables");
  box.replaceChildren(...tables().flatMap((table, index) => {
    if (!asksIn(table) || (index > 0 && table.fields.length === 0 && table.name.includes("."))) return [];
    const about = table.about.join(" ").trim();
    const legend = legendOf(table, about);
    return [make("fieldset", {}, make("legend", {}, legend),
      ...(about.length > SHORT && about.length < 400 ? [make("p", {}, about)] : []),
      ...table.fields.map((field, i) => fieldElement(table, field, [index, i])),
      menu(`One more line for ${legend}`, missingKeys(table).map((key) => choiceWords(table.name, key)), (key) => addField(index, key)),
      entryMenu(table, index))];
  }), partMenu(), draftElement());
  $("undo").disabled = past.length === 0;
  markFields();
  oneAtATime();
  if (held) document.querySelector(`[data-path="${CSS.escape(held)}"]`)?.querySelector("input, select").focus();
}

const EXAMPLE = "The example's number: put yours over it. ";

/** Words at a field, left alone where they are there already: a finger may be on their button. */
function say(said, words, path) {
  if (said.dataset.words === words) return;
  said.dataset.words = words;
  said.replaceChildren(words);
  if (words === EXAMPLE) said.append(button("It is mine as well", () => own(path)));
}

// What the command says of each field: its slip, or that its number is still the example's.
function markFields() {
  const examples = new Set((state.checked?.given ?? []).filter((one) => one.origin === "example").map((one) => one.line));
  const problems = state.checked?.error?.problems ?? [];
  const all = tables();
  const placed = new Set(); // problems that stand at a field
  const typedAgain = []; // a number that was typed is the reader's, also where it is the example's
  for (const element of document.querySelectorAll("#tables .field[data-table]")) {
    const field = all[Number(element.dataset.table)]?.fields[Number(element.dataset.field)];
    if (!field) continue;
    const mine = problems.filter((one) => one.line > field.line && one.line <= field.last + 1);
    for (const one of mine) placed.add(one);
    const input = element.querySelector("input, select");
    const example = examples.has(field.line + 1);
    element.classList.toggle("example", example);
    element.classList.toggle("left", field.left_out);
    input.setAttribute("aria-invalid", String(mine.length > 0));
    const said = element.querySelector(".said");
    said.classList.toggle("slip", mine.length > 0);
    const words = mine.map((one) => slipWords(one)).join(" ");
    say(said, words || (field.left_out ? "Not answered." : example ? EXAMPLE : ""), element.dataset.path);
    if (example && element.dataset.own) typedAgain.push(element);
  }
  const elsewhere = problems.filter((one) => !placed.has(one));
  for (const element of typedAgain) {
    delete element.dataset.own;
    own(element.dataset.path);
  }
  $("form-slips").replaceChildren(...elsewhere.map((one) => make("li", { class: "slip" }, [one.key, slipWords(one)].filter(Boolean).join(": "))));
}

const slipWords = (problem) => problem.rule + (problem.nearest ? ` (did you mean ${problem.nearest}?)` : "");

/** A number that happens to be the example's. */
function own(path) {
  const origin = tables().find((table) => table.name === "origin");
  if (origin?.fields.some((field) => !field.left_out && bare(field.key) === path)) return;
  change(withNew(state.text, origin ?? { head: "[origin]" }, JSON.stringify(path), '"measured"'));
}

// Under the verdict, which stays on top.
function toField(field) {
  field.querySelector("input, select").focus({ preventScroll: true });
  field.scrollIntoView({ block: "nearest" });
}

let goingTo = ""; // a field's path, or "draft", for when the form stands

/** To the field that answers call by `path`; false where there is none. */
function goTo(path) {
  const paths = tables().filter(asksIn).flatMap((table) => table.fields.map((field) => pathOf(table, field)));
  const found = [(one) => one === path, (one) => withoutUnit(one) === withoutUnit(path), (one) => one.startsWith(`${path}.`)]
    .map((fits) => paths.find(fits)).find(Boolean);
  if (!found) return false;
  goOn(found);
  return true;
}

function goOn(to) {
  goingTo = to;
  if (viewNow() === "form") { drawForm(); arrive(); } else location.hash = "#/form";
}

/** Where somebody was sent, once the form is drawn; false where nobody was. */
function arrive() {
  if (!goingTo) return false;
  const target = goingTo === "draft" ? $("draft") : document.querySelector(`#tables [data-path="${CSS.escape(goingTo)}"]`);
  goingTo = "";
  if (!target) return false;
  if ($("one").checked && questions().includes(target)) { at = questions().indexOf(target); oneAtATime(); }
  else if ($("one").checked && target.dataset.table) { $("one").checked = false; oneAtATime(); }
  toField(target);
  return true;
}

/** To where a key belongs: its field, made where its table stands, or the menu of parts. */
function goToKey(key) {
  if (goTo(key)) return;
  const parts = keyParts(key);
  const all = tables();
  const home = all.map((table, index) => ({ table, index, rest: parts.slice(table.path.length).join(".") }))
    .filter(({ table, rest }) => rest && table.path.length > 0 && table.path.every((part, i) => part === parts[i]) && known(table.name, rest))
    .sort((one, other) => other.table.path.length - one.table.path.length)[0];
  const top = parts.length === 1 && known("", key) && !schemaOf(DATA.schema, "", key)?.properties;
  if (home) addField(home.index, home.rest);
  else if (top) addField(0, key);
  else if (DATA.schema.properties[parts[0]]) addTopPart(parts[0], parts.at(-1));
}

/** The questions, one at a time: where some lines are numbered questions, those alone. */
function questions() {
  const fields = [...document.querySelectorAll("#tables .field[data-table]")];
  const numbered = fields.filter((field) => field.dataset.asked);
  return numbered.length > 0 ? numbered : fields;
}

function oneAtATime() {
  const fields = questions();
  const one = $("one").checked;
  $("steps").hidden = !one;
  at = Math.max(0, Math.min(at, fields.length - 1));
  for (const field of document.querySelectorAll("#tables .field[data-table]")) field.hidden = one && field !== fields[at];
  for (const set of document.querySelectorAll("#tables fieldset:not(.draft)")) {
    set.hidden = one && [...set.querySelectorAll(".field")].every((field) => field.hidden);
  }
  for (const part of document.querySelectorAll("#tables .menus")) part.hidden = one;
  kept.write(`twoturn.at ${state.id}`, at);
  $("where").textContent = `${at + 1} of ${fields.length}`;
  $("back").disabled = at === 0;
  $("on").disabled = at + 1 >= fields.length;
  if (one && fields[at]) {
    fields[at].querySelector("details").open = true;
    tellWhatItOpens(fields[at]).catch(failed);
  }
}

function step(by) {
  at += by;
  oneAtATime();
  toField(questions()[at]);
}
