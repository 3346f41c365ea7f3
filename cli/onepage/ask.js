// Forms for what a command can be asked, made from what the command says of itself.

/** A command line's words; quotes hold blanks together. */
const wordsOf = (line) => (line.match(/(?:[^\s"']|"[^"]*"|'[^']*')+/g) ?? []).map((word) => word.replace(/(["'])(.*?)\1/g, "$2"));

// Everything comes onto the page here; where files are written they can be saved one by one.
const NOT_HERE = ["--output", "--force", "--json", "--strict"];
const optionName = (option) => option.name.split(",").at(-1);
const isFile = (option) => option.hint === "FILE" || /^[A-Z]+$/.test(option.name);

function optionField(option) {
  const name = optionName(option);
  const asks = option.what[0].toUpperCase() + option.what.slice(1);
  const about = [make("span", { class: "question" }, asks), make("span", { class: "key" }, name.replace(/^--/, "").replace(/-/g, " ").toLowerCase())];
  if (option.takes === "nothing") return make("p", { class: "field" }, make("label", {}, make("input", { type: "checkbox", name }), make("span", {}, ...about)));
  const id = `option${numbered += 1}`;
  const input = option.words.length > 0
    ? make("select", { id, name }, ...(option.default ? [] : [make("option", { value: "" }, "not said")]), ...option.words.map((word) => make("option", { value: word }, word)))
    : make("input", { id, name, type: "text", list: isFile(option) ? "files" : false, placeholder: option.hint || false,
      autocapitalize: "off", autocomplete: "off", spellcheck: "false" });
  const range = option.least === null ? "" : ` (${option.least} to ${option.most})`;
  if (option.default && option.words.length > 0) input.value = option.default;
  return make("p", { class: "field" }, make("label", { for: id }, ...about, range), input);
}

async function commandOf(name) {
  return (await everyCommand()).commands.find((one) => one.name === name);
}

async function drawOptions() {
  const chosen = await commandOf($("command").value);
  showBeside();
  $("options").replaceChildren(...chosen.options.filter((one) => !NOT_HERE.includes(optionName(one)) && one.name !== "PROFILE").map(optionField));
}

const showMore = once(async () => {
  const { commands } = await everyCommand();
  $("command").append(...commands.map((one) => make("option", { value: one.name }, `${one.name}: ${one.what}`)));
  await drawOptions();
});

/** The words of a form as a command line. */
function argsOf(form, options) {
  return [...form.querySelectorAll("input, select")].flatMap((input) => {
    if (input.type === "checkbox") return input.checked ? [input.name] : [];
    const { repeats } = options.find((one) => optionName(one) === input.name);
    const typed = input.value.trim();
    const values = (repeats ? wordsOf(typed) : [typed]).filter(Boolean);
    return values.flatMap((value) => (input.name.startsWith("-") ? [input.name, value] : [value]));
  });
}

async function runAny() {
  const chosen = await commandOf($("command").value);
  $("go").disabled = true;
  try { await runChosen(chosen); } finally { $("go").disabled = false; }
}

async function runChosen(chosen) {
  const profile = chosen.options.some((one) => one.name === "PROFILE") ? ["profile.toml"] : [];
  const { out, err, made } = await run([chosen.name, ...profile, ...argsOf($("options"), chosen.options)]);
  const files = Object.entries(made);
  $("more-answer").hidden = false;
  const picture = /^\s*<(\?xml|svg)/.test(out);
  $("more-picture").replaceChildren(...(picture ? [document.importNode(new DOMParser().parseFromString(out, "image/svg+xml").documentElement, true)] : []));
  $("more-frame").hidden = picture;
  framed("more-frame", out + err);
  if (picture) $("more-frame").made = out;
  $("made").replaceChildren(...files.map(([name, text]) => make("li", {}, `${name} `, button("Save", () => save([name, text, "text/plain"])))));
  if (files.length > 0) {
    Object.assign(state.beside, made);
    keep();
    showBeside();
  }
  $("more-answer").scrollIntoView();
}

// ---- my engine: what the starter asks before it can ask anything

const drawSetup = once(async () => {
  const { options } = await commandOf("starter");
  const asks = options.filter((one) => ![...NOT_HERE, "--paper"].includes(optionName(one)));
  $("setup-form").append(...asks.map((one) => {
    const counts = Array.from({ length: one.takes === "whole number" ? one.most - one.least + 1 : 0 }, (_, i) => String(one.least + i));
    return optionField({ ...one, words: counts.length > 0 ? counts : one.words });
  }));
});

async function setupArgs() {
  await drawSetup();
  return argsOf($("setup-form"), (await commandOf("starter")).options);
}

async function begin() {
  const { code, out, err } = await run(["starter", ...await setupArgs()]);
  $("setup-slip").hidden = code === 0;
  $("setup-slip").textContent = err.replace(/^twoturn: (starter: )?/, "");
  if (code !== 0) return;
  take(out, { file: "my-engine.toml" });
  keep();
  location.hash = "#/form";
}
