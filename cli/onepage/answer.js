// What the command says of the profile: the verdict above everything, and under "Answer" the belt end
// that turns, what to see, what was found and what to measure next.
let asked = 0;

async function check() {
  const mine = asked += 1;
  try {
    const { out, err } = await run(["check", "profile.toml", "--json"]);
    if (mine !== asked) return;
    state.checked = JSON.parse(out || err);
    showVerdict();
    if (viewNow() === "form") markFields();
    else if (viewNow() === "text") showSlips();
    else await refresh();
  } catch (error) {
    failed(error);
  }
}

function showVerdict() {
  const { error, verdict, headline, profile } = state.checked;
  const problems = error?.problems ?? [];
  $("verdict").className = error ? "stop" : { stop: "stop", "look again": "again" }[verdict] ?? "agrees";
  $("headline").textContent = error
    ? `Nothing can be said yet: ${problems.length === 1 ? "one slip" : `${problems.length} slips`} in what was typed. ${[problems[0]?.key, problems[0]?.rule ?? error.text].filter(Boolean).join(": ")}`
    : headline;
  if (profile) $("title").textContent = profile.title ?? profile;
}

/** A list whose items are strings or lists of parts. */
const items = (list, empty) => (list.length > 0 ? list : [empty]).map((one) => make("li", {}, ...[one].flat()));

/** Numbers that nobody has measured yet, in the words of their questions. */
function showExamples() {
  const lines = new Set((state.checked?.given ?? []).filter((one) => one.origin === "example").map((one) => one.line - 1));
  const fields = tables().flatMap((table) => table.fields.map((field) => ({ table, field }))).filter(({ field }) => lines.has(field.line));
  $("examples-title").hidden = fields.length === 0;
  $("examples").replaceChildren(...fields.map(({ table, field }) => make("li", {},
    `${legendOf(table, table.about.join(" ").trim())}, ${field.key}: ${firstSentence(question(field, schemaOf(DATA.schema, table.name, field.key)))} `,
    button("Go to it", () => goToKey(pathOf(table, field))))));
}

/** The open answers, each with the way to the field that closes it. */
function showMissing() {
  showExamples();
  const open = state.checked?.not_checked ?? [];
  $("missing").replaceChildren(...items(open.map((one) => [`${one.answer}: ${one.measure}. `, button("Go to it", () => goToKey(one.key))]),
    state.checked?.error ? "First put right what was typed." : "Nothing that would tell more."));
}

// Of the report what turns, what was found and what to see; its verdict stands above already.
const TURNING = `main > :not(.turning, [aria-labelledby=see]), .turning > :not(.stage, #handle) { display: none; }
.turning { display: flex; flex-direction: column; }
#handle { order: -1; position: static; margin: 0; max-width: none; }
#handle button, #handle input { min-height: 46px; min-width: 46px; }
body { padding: 4px; }`;

async function showTurning() {
  const { out, err } = await run(["report", "profile.toml"]);
  framed("answer-frame", out || err, (page) => {
    page.head.append(Object.assign(page.createElement("style"), { textContent: TURNING }));
  });
}

/** What the command prints, as paragraphs and lists; tables stay as they are set. */
function told(text) {
  return text.trim().split(/\n{2,}/).flatMap((block) => {
    if (/\S {3,}\S/.test(block)) return [make("pre", { tabindex: "0" }, block)];
    const parts = [];
    for (const line of block.split("\n")) {
      const item = /^(- |\d+\. )/.test(line);
      const goesOn = parts.length > 0 && !item && (/^ /.test(line) || !parts.at(-1).item);
      if (goesOn) parts.at(-1).words += ` ${line.trim()}`;
      else parts.push({ item, words: line.replace(/^- /, "") });
    }
    return parts.reduce((made, { item, words }) => {
      if (!item) return [...made, make("p", {}, words)];
      const list = made.at(-1)?.tagName === "UL" ? made.pop() : make("ul");
      list.append(make("li", {}, words));
      return [...made, list];
    }, []);
  });
}

async function showWords() {
  const { out, err } = await run(["check", "profile.toml"]);
  $("words").replaceChildren(...told(out || err));
}

const showAnswer = lastOnly(async () => {
  showMissing();
  await showTurning();
  await showWords();
});
