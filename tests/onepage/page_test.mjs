// The whole tool as one page, in Chromium without a network: what it answers is what the command
// answers, typed by hand or opened, on a phone and at a desk.
//     TWOTURN_PAGE=build-page/twoturn.html TWOTURN_COMMAND=build/twoturn TWOTURN_BROWSER_DIR=... node page_test.mjs
import assert from "node:assert/strict";
import fs from "node:fs";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { axe, command, demos, htmlFaults, run, root } from "../browser/bench.mjs";

const PAGE = path.resolve(process.env.TWOTURN_PAGE ?? "build-page/twoturn.html");
const PHONE = { width: 360, height: 640 };

/** The page in a window of its own, offline; any request but for itself, or a fault, is a failure. */
async function page(browser, look, { width = 1280, height = 900, slower = 1, hash = "", phone = false, dark = false, init } = {}) {
  const context = await browser.newContext({ viewport: { width, height }, offline: true, hasTouch: phone,
    colorScheme: dark ? "dark" : "light" });
  const tab = await context.newPage();
  const wrong = [];
  tab.on("request", (request) => { if (!/^(file|blob|data|about):/.test(request.url())) wrong.push(request.url()); });
  tab.on("pageerror", (error) => wrong.push(String(error)));
  tab.on("console", (message) => { if (message.type() === "error") wrong.push(message.text()); });
  if (init) await tab.addInitScript(init);
  if (slower > 1) {
    const devtools = await context.newCDPSession(tab);
    await devtools.send("Emulation.setCPUThrottlingRate", { rate: slower });
  }
  await tab.goto(pathToFileURL(PAGE).href + hash);
  try {
    const made = await look(tab);
    assert.deepEqual(wrong, []);
    return made;
  } finally {
    await context.close();
  }
}

const settled = (tab) => tab.waitForFunction(() => state.checked && !document.getElementById("verdict").classList.contains("old"));
const headline = (tab) => tab.locator("#headline").textContent();

async function demo(tab, title) {
  await tab.goto(`${pathToFileURL(PAGE).href}#/start`);
  await tab.getByRole("button", { name: title, exact: true }).click();
  await settled(tab);
}

const titleOf = (file) => fs.readFileSync(file, "utf8").match(/^title = "(.*)"/m)[1];

/** One command in the page: what it prints. */
const inPage = (tab, args, files = {}) => tab.evaluate(([a, f]) => run(a, f), [args, files]);

const worst = { share: 0, where: "" };

/** Numbers equal to 12 significant digits, small ones (what is left of larger ones) to 1e-11; text but
 * for its numbers. Angles go round. */
function nearly(one, other, where) {
  if (typeof one === "number" && typeof other === "number") {
    const scale = Math.max(Math.abs(one), Math.abs(other), 10);
    const apart = Math.abs(one - other);
    const off = /_deg$/.test(where) ? Math.min(apart, Math.abs(360 - apart)) : apart;
    if (off > worst.share * scale) Object.assign(worst, { share: off / scale, where: `${where}: ${one} and ${other}` });
    assert.ok(off <= 1e-12 * scale, `${where}: ${one} and ${other}`);
    return;
  }
  if (typeof one === "string" && typeof other === "string") {
    const words = (text) => text.replace(/-?\d+(\.\d+)?(e[+-]?\d+)?/g, "0");
    assert.equal(words(one), words(other), where);
    return;
  }
  if (one === null || typeof one !== "object") {
    assert.deepEqual(one, other, where);
    return;
  }
  assert.deepEqual(Object.keys(one), Object.keys(other), where);
  // The length of a text goes with its last digits.
  for (const key of Object.keys(one)) if (key !== "bytes") nearly(one[key], other[key], `${where}.${key}`);
}

const READINGS = path.join(root, "examples/launch-head.csv");
/** What a command is asked besides: few samples, a face. */
const ASKED = { spread: ["--samples", "1000"], face: ["head.csv"] };

/** "Start with my engine" as it is offered. */
async function begun(tab) {
  await tab.getByRole("link", { name: "Start with my engine" }).click();
  await tab.getByLabel(/drives the water pump/).check();
  await tab.getByRole("button", { name: "Go on to the questions" }).click();
  await settled(tab);
  await tab.locator("#one").setChecked(false);
}

async function view(tab, name) {
  const link = tab.locator("#views").getByRole("link", { name, exact: true });
  await link.click();
  const id = (await link.getAttribute("href")).replace("#/", "");
  await tab.waitForFunction((shown) => !document.getElementById(shown).hidden, id);
}
const fieldAt = (tab, path) => tab.locator(`[data-path="${path}"]`);
const mine = (tab) => tab.getByRole("button", { name: "It is mine as well" });
const verdict = (text) => JSON.parse(command(["check", "-", "--json"], { input: text, codes: [0, 1, 3] })).headline;

async function put(tab, path, typed) {
  const input = fieldAt(tab, path).locator("input").first();
  await input.fill(typed);
  await input.press("Tab");
}

/** A field's answer as it is for the engine that a mirror shows. */
async function typedInMirror(field) {
  const path = await field.getAttribute("data-path");
  const select = field.locator("select.value");
  if (await select.count() > 0) {
    const word = await select.inputValue();
    const other = { clockwise: "anticlockwise", anticlockwise: "clockwise" }[word];
    if (other) await select.selectOption(other);
    return;
  }
  const input = field.locator("input[type=text]");
  const before = await input.inputValue();
  const comma = (number) => String(number).replace(".", ",");
  let typed = before;
  if (/_deg$/.test(path) && before) typed = comma((360 - Number(before)) % 360);
  else if (/_mm$/.test(path) && before.includes(", ")) {
    const [right, up] = before.split(", ").map(Number);
    typed = `${comma(-right)}; ${comma(up)}`;
  } else if (path === "title") typed = "Ferry winch, one cam";
  if (typed === before) return;
  await input.fill(typed);
  await input.press("Tab");
}

await run({
  "it is one file of at most 3 MB": async () => {
    assert.ok(fs.statSync(PAGE).size <= 3e6, `${fs.statSync(PAGE).size} bytes`);
  },

  "each demo's verdict is the command's": async (browser) => {
    await page(browser, async (tab) => {
      for (const [name, file] of demos()) {
        await demo(tab, titleOf(file));
        assert.equal(await headline(tab), JSON.parse(command(["check", file, "--json"])).headline, name);
      }
    });
  },

  "all documents are the command's to 12 digits, all words the same": async (browser) => {
    const all = JSON.parse(command(["commands", "--json"])).commands;
    assert.ok(all.length >= 22);
    const head = fs.readFileSync(READINGS, "utf8");
    await page(browser, async (tab) => {
      await tab.evaluate(() => ready);
      for (const [name, file] of demos()) {
        await tab.evaluate((profile) => { state.text = profile; }, fs.readFileSync(file, "utf8"));
        for (const one of all) {
          const ofProfile = one.options.some((option) => option.name === "PROFILE");
          if (!ofProfile && name !== demos()[0][0]) continue;
          const asked = [...ASKED[one.name] ?? [], "--json"];
          const own = (await inPage(tab, [one.name, ...ofProfile ? ["profile.toml"] : [], ...asked], { "head.csv": head })).out;
          const native = command([one.name, ...ofProfile ? [file] : [], ...asked.map((word) => (word === "head.csv" ? READINGS : word))], { codes: [0, 1, 2] });
          nearly(JSON.parse(own), JSON.parse(native.replaceAll(READINGS, "head.csv")), `${name} ${one.name}`);
        }
        for (const kind of [["report"], ["sheet"], ["sheet", "--card"], ["sheet", "--job-card"], ["sheet", "--phone"], ["check"], ["draw"]]) {
          const [what, ...rest] = kind;
          nearly((await inPage(tab, [what, "profile.toml", ...rest])).out, command([what, file, ...rest]), `${name} ${kind}`);
        }
      }
    });
    console.log(`least alike: ${worst.where}`);
  },

  "every command answers in the page": async (browser) => {
    await page(browser, async (tab) => {
      const all = JSON.parse(command(["commands", "--json"])).commands;
      for (const one of all) {
        const answer = await inPage(tab, [one.name, "--help"]);
        assert.equal(answer.code, 0, one.name);
        assert.match(answer.out, /Usage/);
      }
    });
  },

  "every command has its form, made of what it says of itself": async (browser) => {
    await page(browser, async (tab) => {
      await demo(tab, titleOf(demos().find(([name]) => name === "harbour-launch")[1]));
      await view(tab, "More");
      const all = JSON.parse(command(["commands", "--json"])).commands;
      for (const one of all) {
        await tab.locator("#command").selectOption(one.name);
        const asks = one.options.map((option) => option.name.split(",").at(-1))
          .filter((name) => !["PROFILE", "--output", "--force", "--json", "--strict"].includes(name));
        await tab.waitForFunction((names) => {
          const there = [...document.querySelectorAll("#options [name]")].map((input) => input.name);
          return names.length === there.length && names.every((name) => there.includes(name));
        }, asks);
      }
      await tab.locator("#command").selectOption("tensioner");
      await tab.getByRole("button", { name: "Work it out" }).click();
      await tab.frameLocator("#more-frame").getByText(/travel/i).first().waitFor();
      await tab.locator("#command").selectOption("draw");
      await tab.getByRole("button", { name: "Work it out" }).click();
      await tab.locator("#more-picture svg").first().waitFor();
    });
  },

  "a record of the job is written, filled in and judged on the page": async (browser) => {
    await page(browser, async (tab) => {
      await demo(tab, titleOf(demos().find(([name]) => name === "harbour-launch")[1]));
      await view(tab, "More");
      await tab.locator("#command").selectOption("sheet");
      await tab.locator("#options [name='--phone']").waitFor();
      await tab.locator("#options [name='--record']").fill("job.toml");
      await tab.getByRole("button", { name: "Work it out" }).click();
      await tab.locator("#made").getByText("job.toml").waitFor();
      await tab.locator("#command").selectOption("check");
      await tab.locator("#options [name='--phone']").waitFor({ state: "detached" });
      await tab.locator("#options [name='--record']").fill("job.toml");
      await tab.getByRole("button", { name: "Work it out" }).click();
      await tab.frameLocator("#more-frame").getByText(/NOT DONE|not ticked/).first().waitFor();
    });
  },

  "a new key of the schema is in the form without a line of script": async (browser) => {
    await page(browser, async (tab) => {
      await demo(tab, titleOf(demos()[1][1]));
      await view(tab, "My engine");
      await tab.evaluate(() => {
        DATA.schema.definitions.belt.properties.colour = { description: "What colour its back is", enum: ["black", "white"] };
        drawForm();
      });
      await tab.getByLabel("One more line for belt").selectOption("colour");
      await tab.locator('[data-path="belt.colour"] select').selectOption("white");
      assert.match(await tab.evaluate(() => state.text), /^colour = "white"$/m);
      await tab.waitForFunction(() => document.querySelector('[data-path="belt.colour"] .said.slip'));
    });
  },

  "from the empty page to a verdict on an engine typed field by field, on a phone": async (browser) => {
    await page(browser, async (tab) => {
      await tab.getByRole("link", { name: "Start with my engine" }).tap();
      await tab.getByLabel(/drives the water pump/).check();
      await tab.getByRole("button", { name: "Go on to the questions" }).tap();
      await settled(tab);
      assert.match(await headline(tab), /example/);
      // The starter's example seen in a mirror is another engine, and a sound one.
      const next = tab.getByRole("button", { name: "Next" });
      let asked = 0;
      for (let more = true; more; asked += 1) {
        const field = tab.locator("#tables .field:not([hidden])");
        assert.equal(await field.count(), 1, "one question at a time");
        await typedInMirror(field);
        await settled(tab);
        if (await mine(tab).count() > 0) await mine(tab).first().tap();
        more = await next.isEnabled();
        if (more) await next.tap();
      }
      assert.ok(asked > 25, `${asked} questions`);
      await settled(tab);
      const text = await tab.evaluate(() => state.text);
      assert.match(text, /water pump/);
      assert.match(text, /crank_turns = "anticlockwise"/);
      assert.match(await headline(tab), /^On paper: agrees/);
      assert.equal(await headline(tab), verdict(text));
    }, { ...PHONE, phone: true });
  },

  "every slip of profiles/README.md, typed into its field, is taken as meant or said there": async (browser) => {
    await page(browser, async (tab) => {
      await begun(tab);
      for (const [path, typed, taken] of [
        ["pulley.tensioner.diameter_mm", "60,5", "diameter_mm = 60.5"],
        ["belt.teeth", '"110"', "teeth = 110"],
        ["pulley.cam.mark_deg", "\u201c12:15\u201d", 'mark_deg = "12:15"'],
        ["belt.thickness_mm", "4,2 mm", "thickness_mm = 4.2"],
        ["belt.thickness_mm", "0.165 in", "thickness_in = 0.165"],
      ]) {
        await put(tab, path, typed);
        assert.ok((await tab.evaluate(() => state.text)).includes(taken), `${path}: ${typed}`);
        await settled(tab);
        await tab.waitForFunction(() => !document.querySelector("#tables .said.slip"));
      }
      for (const [path, typed, said] of [
        ["belt.over_10_teeth_mm", "72", /nine gaps/],
        ["belt.over_10_teeth_mm", "857", /must be from/],
        ["belt.teeth", "many", /number/],
        ["belt.teeth", "-4", /must be/],
        ["pulley.tensioner.tensioner.thickest_mm", "70", /roller|diameter/],
        ["pulley.water pump.name", "cam", /taken/],
        ["title", "", /Not answered/],
      ]) {
        const before = await fieldAt(tab, path).locator("input").inputValue();
        await put(tab, path, typed);
        await settled(tab);
        await tab.waitForFunction((pattern) => [...document.querySelectorAll("#tables .said")].some((one) => new RegExp(pattern).test(one.textContent)), said.source);
        await tab.getByRole("button", { name: "Undo" }).click();
        await settled(tab);
        assert.equal(await fieldAt(tab, path).locator("input").inputValue(), before, `${path} undone`);
      }
    });
    await page(browser, async (tab) => {
      await demo(tab, titleOf(demos().find(([name]) => name === "night-bakery-van")[1]));
      await view(tab, "Profile");
      const text = await tab.evaluate(() => state.text);
      for (const [from, to, said] of [
        [/^name = "head"$/m, "name = \u201chead\u201d", /quot/],
        [/^teeth = 140$/m, "teeth = 140\npitch_mm = 95.25\n", /ten teeth|pitch|section/],
        [/^deck_from_crank_mm = 205$/m, "deck_from_crank_mm = 205\ndeck_from_crank_in = 8", /keep one|both|once/],
        [/^name = "exhaust cam"$/m, 'name = "inlet cam"', /name/],
      ]) {
        const slip = text.replace(from, to);
        assert.notEqual(slip, text, String(from));
        await tab.locator("#profile").fill(slip);
        await tab.waitForFunction((pattern) => new RegExp(pattern).test(document.getElementById("slips").textContent), said.source);
        const line = slip.slice(0, slip.search(to.split("\n").at(-1) || to.split("\n")[0])).split("\n").length;
        assert.match(await tab.locator("#slips").textContent(), /Line \d+/, `line ${line}`);
        assert.match(await tab.locator("#lines").textContent(), /\u25b6\d+/);
      }
    });
  },

  "a slip is said at its field, and gone once it is put right": async (browser) => {
    await page(browser, async (tab) => {
      await demo(tab, titleOf(demos()[1][1]));
      await view(tab, "My engine");
      const teeth = tab.locator('[data-path="belt.teeth"] input');
      const before = await teeth.inputValue();
      await teeth.fill("many");
      await teeth.press("Tab");
      await tab.waitForFunction(() => document.querySelector('[data-path="belt.teeth"] .said.slip'));
      assert.equal(await teeth.getAttribute("aria-invalid"), "true");
      assert.match(await headline(tab), /slip/);
      await teeth.fill(before);
      await teeth.press("Tab");
      await tab.waitForFunction(() => !document.querySelector(".said.slip"));
    });
  },

  "what is missing leads to where it is answered, and going there changes nothing": async (browser) => {
    await page(browser, async (tab) => {
      let led = 0;
      for (const name of ["roadside-counts", "mill-generator", "harbour-launch", "cam-bench"]) {
        await demo(tab, titleOf(demos().find(([one]) => one === name)[1]));
        const before = await headline(tab);
        const count = await tab.evaluate(() => state.checked.not_checked.length);
        for (let i = 0; i < count; i += 1, led += 1) {
          await view(tab, "Answer");
          await tab.waitForFunction((n) => document.querySelectorAll("#missing button").length === n, count);
          await tab.locator("#missing button").nth(i).click();
          await settled(tab);
          assert.equal(await headline(tab), before, `${name}, ${i}`);
          await tab.waitForFunction(() => document.activeElement?.closest("#tables .field"), null, { timeout: 5000 });
          const leave = tab.getByRole("button", { name: "Leave it" });
          if (await leave.count() > 0) await leave.click();
        }
      }
      assert.ok(led > 8, `${led} ways`);
    });
  },

  "under the verdict stands what turns, and what to see; the rest is the report's": async (browser) => {
    await page(browser, async (tab) => {
      await demo(tab, titleOf(demos().find(([name]) => name === "night-bakery-van")[1]));
      const inside = tab.frameLocator("#answer-frame");
      await inside.locator("#handle").waitFor();
      for (const there of ["#engine svg", "#found", "#see", "#seen"]) assert.ok(await inside.locator(there).first().isVisible(), there);
      for (const away of ["main > header", "#plots", "#close"]) assert.ok(await inside.locator(away).first().isHidden(), away);
      const mark = inside.locator("#seen td[data-mark]").first();
      const before = await mark.textContent();
      await inside.locator("#handle #on").click();
      assert.notEqual(await mark.textContent(), before);
    });
  },

  "a part is put in once it is whole, and taken out again": async (browser) => {
    await page(browser, async (tab) => {
      await demo(tab, titleOf(demos().find(([one]) => one === "harbour-launch")[1]));
      await view(tab, "My engine");
      const before = await tab.evaluate(() => state.text);
      await tab.getByLabel("One more part").selectOption("cover");
      await tab.locator("#draft [data-key=name]").fill("upper cover");
      await tab.getByRole("button", { name: "Put it in" }).click();
      await settled(tab);
      assert.match(await tab.evaluate(() => state.text), /\[\[cover\]\]\nname = "upper cover"/);
      await tab.getByLabel("All of upper cover").selectOption("out");
      await settled(tab);
      assert.equal((await tab.evaluate(() => state.text)).trim(), before.trim());
    });
  },

  "any answer may be left out: nothing fails, and Undo brings it back": async (browser) => {
    await page(browser, async (tab) => {
      await demo(tab, titleOf(demos().find(([one]) => one === "harbour-launch")[1]));
      await view(tab, "My engine");
      await tab.locator("#tables .field").first().waitFor();
      const before = await tab.evaluate(() => state.text);
      const fields = await tab.locator("#tables .field:has(input[type=text])").count();
      assert.ok(fields > 40, `${fields} fields`);
      for (let i = 0; i < fields; i += 1) {
        const field = tab.locator("#tables .field:has(input[type=text])").nth(i);
        await field.locator("input").fill("");
        await field.locator("input").press("Tab");
        await settled(tab);
        assert.ok(await tab.locator("#fault").isHidden(), await field.getAttribute("data-path"));
        assert.match(await field.locator(".said").textContent(), /\S/);
        await tab.getByRole("button", { name: "Undo" }).click();
      }
      assert.equal(await tab.evaluate(() => state.text), before);
    });
  },

  "closed by accident and opened again, everything typed is there": async (browser) => {
    await page(browser, async (tab) => {
      await demo(tab, titleOf(demos()[1][1]));
      await view(tab, "My engine");
      const title = tab.locator('[data-path="title"] input');
      await title.fill("Under the tarpaulin");
      await title.press("Tab");
      await settled(tab);
      await tab.goto(`${pathToFileURL(PAGE).href}?again#/start`);
      await tab.getByRole("button", { name: "Go on with Under the tarpaulin" }).click();
      assert.equal(await tab.locator('[data-path="title"] input').inputValue(), "Under the tarpaulin");
    });
  },

  "sheet, report and profile are saved, shared and printed": async (browser) => {
    await page(browser, async (tab) => {
      await demo(tab, titleOf(demos().find(([name]) => name === "harbour-launch")[1]));
      for (const [name, id, file, words] of [["Sheet", "sheet", "harbour-launch-sheet.html", /Timing belt job sheet/],
        ["Report", "report", "harbour-launch-report.html", /Report on a timing-belt drive/], ["Profile", "text", "harbour-launch.toml", /crank_turns = /]]) {
        await view(tab, name);
        await tab.waitForFunction((frame) => frame === "text" || document.getElementById(`${frame}-frame`).made, id);
        await tab.waitForTimeout(500);
        const [saved] = await Promise.all([tab.waitForEvent("download"), tab.locator(`#${id} .save`).click()]);
        assert.equal(saved.suggestedFilename(), file);
        assert.match(fs.readFileSync(await saved.path(), "utf8"), words);
        await tab.locator(`#${id} .share`).click();
        await tab.waitForFunction((wanted) => globalThis.shared === wanted, file);
        await tab.locator(`#${id} .print`).click();
        await tab.waitForFunction((pattern) => new RegExp(pattern).test(globalThis.printed ?? ""), words.source);
      }
    }, { init: () => {
      globalThis.print = () => { top.printed = document.body.textContent; };
      navigator.share = async ({ files }) => { globalThis.shared = files[0].name; };
    } });
  },

  "ticks on the sheet stay": async (browser) => {
    await page(browser, async (tab) => {
      await demo(tab, titleOf(demos()[1][1]));
      await view(tab, "Sheet");
      const box = tab.frameLocator("#sheet-frame").locator("input[type=checkbox]").first();
      await box.check();
      await view(tab, "Report");
      await view(tab, "Sheet");
      await tab.waitForFunction(() => document.getElementById("sheet-frame").contentDocument?.querySelector("input[type=checkbox]")?.checked);
    });
  },

  "a profile by hand is saved back with its comments, its errors at their lines": async (browser) => {
    await page(browser, async (tab) => {
      const text = fs.readFileSync(demos()[1][1], "utf8");
      await tab.setInputFiles("#open", { name: "mine.toml", mimeType: "text/plain", buffer: Buffer.from(text) });
      await settled(tab);
      assert.equal(await tab.locator("#profile").inputValue(), text);
      await tab.locator("#profile").fill(text.replace(/^teeth = .*$/m, "teeth = -1"));
      await tab.waitForFunction(() => document.querySelector("#slips .slip"));
      const line = text.split("\n").findIndex((one) => /^teeth = /.test(one)) + 1;
      assert.match(await tab.locator("#slips").textContent(), new RegExp(`Line ${line}`));
      const [saved] = await Promise.all([tab.waitForEvent("download"), tab.locator("#text .save").click()]);
      assert.equal(saved.suggestedFilename(), "mine.toml");
      assert.match(fs.readFileSync(await saved.path(), "utf8"), /teeth = -1/);
    });
  },

  "no profile, 4 MB of it, half of one: clear words, nothing lost": async (browser) => {
    await page(browser, async (tab) => {
      const open = (name, buffer) => tab.setInputFiles("#open", { name, mimeType: "text/plain", buffer });
      await open("photo.jpg", Buffer.from([0xff, 0xd8, 0xff, 0xe0, 0x00]));
      await tab.getByText(/is no text/).waitFor();
      await open("large.toml", Buffer.alloc(5 << 20, 0x23));
      await tab.getByText(/no profile is so large/).waitFor();
      await open("half.toml", Buffer.from('[belt]\nteeth = '));
      await tab.locator("#text").waitFor();
      await settled(tab);
      assert.match(await headline(tab), /slip/);
      assert.equal(await tab.locator("#profile").inputValue(), "[belt]\nteeth = ");
    });
  },

  "without WebAssembly, or where nothing is kept, it says so": async (browser) => {
    await page(browser, async (tab) => {
      await tab.waitForFunction(() => !document.getElementById("fault").hidden);
      assert.match(await tab.locator("#fault").textContent(), /too old/);
    }, { init: () => { delete globalThis.WebAssembly; } });
    await page(browser, async (tab) => {
      await demo(tab, titleOf(demos()[1][1]));
      await view(tab, "My engine");
      await put(tab, "title", "Not kept");
      await tab.getByText(/keeps nothing/).waitFor();
      assert.match(await tab.evaluate(() => state.text), /Not kept/);
    }, { init: () => { Storage.prototype.setItem = () => { throw new Error("full"); }; } });
  },

  "first verdict within 2 s of opening, 1 s after a change, on a processor four times slower": async (browser) => {
    await page(browser, async (tab) => {
      await demo(tab, titleOf(demos().find(([name]) => name === "night-bakery-van")[1]));
      await tab.evaluate(() => keep());
      const times = [];
      for (let i = 0; i < 5 && !(Math.min(...times) <= 2000); i += 1) {
        const begun = Date.now();
        await tab.goto(`${pathToFileURL(PAGE).href}?${i}#/answer`);
        await settled(tab);
        times.push(Date.now() - begun);
      }
      console.log(`first verdict, 4 times slower: ${times.join(", ")} ms`);
      assert.ok(Math.min(...times) <= 2000, `${times} ms`);
      const changed = await tab.evaluate(async () => {
        const begun = performance.now();
        change(state.text.replace(/^teeth = (\d+)/m, (whole, n) => `teeth = ${Number(n) + 1}`));
        await new Promise((resolve) => { const look = () => (document.getElementById("verdict").classList.contains("old") ? setTimeout(look, 10) : resolve()); look(); });
        return performance.now() - begun;
      });
      console.log(`after a change, 4 times slower: ${Math.round(changed)} ms`);
      assert.ok(changed <= 1000, `${changed} ms`);
    }, { slower: 4 });
  },

  "a hand quicker than the page asks for nothing twice": async (browser) => {
    await page(browser, async (tab) => {
      await tab.evaluate(() => {
        location.hash = "#/setup";
        drawSetup();
        return begin().then(() => begin());
      });
      await settled(tab);
      assert.ok(await tab.locator("#setup-slip").isHidden(), await tab.locator("#setup-slip").textContent());
      const names = await tab.evaluate(() => [...document.querySelectorAll("#setup-form [name]")].map((input) => input.name));
      assert.deepEqual(names, [...new Set(names)]);
      await tab.evaluate(() => Promise.all([showMore(), showMore()]));
      const commands = await tab.evaluate(() => [...document.querySelectorAll("#command option")].map((option) => option.value));
      assert.deepEqual(commands, [...new Set(commands)]);
    });
  },

  "by keyboard alone, in the dark: from the opened file to a changed verdict": async (browser) => {
    await page(browser, async (tab) => {
      const to = async (name) => {
        for (let i = 0; i < 200; i += 1) {
          await tab.keyboard.press("Tab");
          const here = await tab.evaluate(() => {
            const on = document.activeElement;
            if (on === document.body) return ""; // round the end: all text of the page is no target
            return `${on.textContent} ${on.closest("[data-path]")?.dataset.path ?? ""} ${on.labels?.[0]?.textContent ?? ""}`;
          });
          if (here.includes(name)) return;
        }
        assert.fail(`no way to "${name}" by Tab`);
      };
      await to("Start with my engine");
      await tab.keyboard.press("Enter");
      await to("Go on to the questions");
      await tab.keyboard.press("Enter");
      await settled(tab);
      const before = await headline(tab);
      await to("belt.teeth");
      await tab.keyboard.press("Control+A");
      await tab.keyboard.type("80");
      await tab.keyboard.press("Tab");
      await settled(tab);
      assert.notEqual(await headline(tab), before);
      assert.match(await headline(tab), /STOP/);
      for (const name of ["start", "setup", "answer", "form", "sheet", "more", "text"]) {
        await tab.evaluate((one) => { location.hash = `#/${one}`; }, name);
        await tab.waitForFunction((one) => !document.getElementById(one).hidden, name);
        await tab.waitForTimeout(300);
        assert.deepEqual(await axe(tab), [], name);
      }
    }, { dark: true });
  },

  "targets are 12 mm or more, nothing goes sideways at 360 px, axe and Nu find nothing": async (browser) => {
    await page(browser, async (tab) => {
      await demo(tab, titleOf(demos()[1][1]));
      for (const view of ["start", "setup", "answer", "form", "sheet", "report", "more", "text"]) {
        await tab.evaluate((name) => { location.hash = `#/${name}`; }, view);
        await tab.waitForFunction((name) => !document.getElementById(name).hidden, view);
        await tab.waitForTimeout(400);
        const [wide, small] = await tab.evaluate(() => {
          const seen = (part) => part.offsetParent !== null && getComputedStyle(part).opacity !== "0";
          const targets = [...document.querySelectorAll("a, button, select, input, summary, label.button")].filter(seen);
          return [document.documentElement.scrollWidth, targets.filter((part) => {
            const box = (part.matches("input[type=checkbox]") ? part.closest("label") : part).getBoundingClientRect();
            return box.height < 45 || box.width < 45;
          }).map((part) => part.outerHTML.slice(0, 80))];
        });
        assert.ok(wide <= 360, `${view}: ${wide} px wide`);
        assert.deepEqual(small, [], view);
        assert.deepEqual(await axe(tab), [], view);
      }
    }, { ...PHONE, phone: true });
    assert.deepEqual(htmlFaults([PAGE]), []);
  },
});
