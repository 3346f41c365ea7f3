// What the browser tests share: one Chromium without a network, pages opened from disk, prints
// looked at with poppler's tools. A test is a function given to `run`; it throws where something is
// wrong. DEVELOPERS.md says how to add a script.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import fs from "node:fs";
import { createRequire } from "node:module";
import path from "node:path";
import { pathToFileURL } from "node:url";

// The packages stand in the build folder, where `npm ci` put them.
export const work = path.resolve(process.env.TWOTURN_BROWSER_DIR ?? ".");
export const source = path.resolve(import.meta.dirname ?? path.dirname(new URL(import.meta.url).pathname));
export const root = path.resolve(source, "../..");
const require = createRequire(path.join(work, "package.json"));
const { chromium } = require("playwright-core");

const twoturn = process.env.TWOTURN_COMMAND;

/** Runs the command and gives back its standard output; other exit codes than these are failures. */
export function command(args, { input = "", codes = [0, 1] } = {}) {
  try {
    // Among the demos, so that a profile from standard input finds the tables it names.
    const cwd = path.join(root, "profiles");
    return execFileSync(twoturn, args, { input, encoding: "utf8", maxBuffer: 1 << 28, cwd });
  } catch (error) {
    if (codes.includes(error.status)) return error.stdout;
    throw new Error(`twoturn ${args.join(" ")} ended with ${error.status}: ${error.stderr}`);
  }
}

/** Every demo profile: [name, path]. */
export function demos() {
  const folder = path.join(root, "profiles");
  const files = fs.readdirSync(folder).filter((name) => name.endsWith(".toml"));
  assert.ok(files.length >= 8, "the demos are there");
  return files.sort().map((name) => [name.replace(/\.toml$/, ""), path.join(folder, name)]);
}

/** Random drives as [name, profile text], the same ones every time. */
export function randomDrives(count) {
  const folder = path.join(work, "made", path.basename(process.argv[1], ".mjs"), "random");
  fs.rmSync(folder, { recursive: true, force: true });
  execFileSync(process.env.TWOTURN_PYTHON ?? "python3",
    ["-B", path.join(root, "tests/draw/random_drives.py"), twoturn, folder, String(count)]);
  const files = fs.readdirSync(folder).sort();
  assert.equal(files.length, count);
  return files.map((name) => [name.replace(".toml", ""), fs.readFileSync(path.join(folder, name), "utf8")]);
}

/** The same profile without places: only the order in which the belt is threaded is left. */
export function withoutPlaces(text) {
  const places = /^(at_mm|pivot_mm|arm_mm|thickest_mm|thinnest_mm|slack_\w+|tight_\w+|tightens|set_deg|pointer_deg|set_mm|\[pulley\.tensioner\]).*\n/gm;
  return text.replace(/^\[(origin|build)\]\n(?:.+\n)*/gm, "").replace(/^\[\[(cover|measured)\]\]\n(?:.+\n)*/gm, "").replace(places, "");
}

/** A file in a folder of this script's own, written anew. */
export function written(name, text) {
  const folder = path.join(work, "made", path.basename(process.argv[1], ".mjs"));
  fs.mkdirSync(folder, { recursive: true });
  const file = path.join(folder, name);
  fs.writeFileSync(file, text);
  return file;
}

/** Runs the tests of one script in one Chromium, one after the other; exits 1 if any fails. */
export async function run(tests) {
  const browser = await chromium.launch({
    executablePath: process.env.TWOTURN_CHROMIUM ?? "/usr/bin/chromium",
    args: ["--no-sandbox", "--disable-gpu", "--force-color-profile=srgb"],
  });
  let failed = 0;
  for (const [name, test] of Object.entries(tests)) {
    const begun = Date.now();
    try {
      await test(browser);
      console.log(`ok      ${name} (${Date.now() - begun} ms)`);
    } catch (error) {
      failed += 1;
      console.log(`FAILED  ${name}\n${error.stack}`);
    }
  }
  await browser.close();
  process.exit(failed ? 1 : 0);
}

/**
 * Opens files from disk, one after the other in one page with the network off; what `look` made of
 * each. Anything that one asks for but itself, anything on its console and any fault in a script of
 * its own is a failure. What one leaves behind in the browser is there for the next.
 */
export async function openedInTurn(browser, files, look, { width = 1000, height = 1400 } = {}) {
  const context = await browser.newContext({ viewport: { width, height }, offline: true });
  const page = await context.newPage();
  let wrong = [];
  let own = "";
  page.on("request", (request) => {
    if (request.url().split("#")[0] !== own) wrong.push(`asks for ${request.url()}`);
  });
  page.on("console", (message) => wrong.push(`says on its console: ${message.text()}`));
  page.on("pageerror", (error) => wrong.push(`fails: ${error.message}`));
  page.on("dialog", (dialog) => {
    wrong.push(`opens a dialog: ${dialog.message()}`);
    dialog.dismiss();
  });
  try {
    const results = [];
    for (const file of files) {
      own = pathToFileURL(file).href;
      await page.goto(own);
      results.push(await look(page, results.length));
      assert.deepEqual(wrong, [], path.basename(file));
      wrong = [];
    }
    return results;
  } finally {
    await context.close();
  }
}

/** Opens one file so, in a browser's context of its own, and closes it again after `look`. */
export async function opened(browser, file, look, window = {}) {
  const [result] = await openedInTurn(browser, [file], look, window);
  return result;
}

/** Fails where the page is wider than the window. */
export async function notSideways(page) {
  const [wide, window] = await page.evaluate(() => [
    document.documentElement.scrollWidth,
    document.documentElement.clientWidth,
  ]);
  assert.ok(wide <= window, `the page is ${wide} px wide in a window of ${window}`);
}

/** Violations that axe-core finds on a page, in words. */
export async function axe(page) {
  await page.evaluate(fs.readFileSync(require.resolve("axe-core/axe.min.js"), "utf8"));
  const found = await page.evaluate(() => window.axe.run(document));
  return found.violations.map((rule) => `${rule.id}: ${rule.help}: ${rule.nodes[0].html}`);
}

/** What the Nu HTML checker finds wrong in files, all of them in one go. */
export function htmlFaults(files) {
  const jar = require.resolve("vnu-jar/build/dist/vnu.jar");
  const said = execFileSync(
    "java", ["-jar", jar, "--exit-zero-always", "--format", "json", "--stdout", ...files],
    { encoding: "utf8", maxBuffer: 1 << 28 });
  return JSON.parse(said).messages.map(
    (message) => `${path.basename(message.url)}:${message.lastLine}: ${message.message}`);
}

/** The page printed: the PDF's path. Sizes and margins are the page's own (@page). */
export async function printed(page, name) {
  const file = written(`${name}.pdf`, "");
  await page.pdf({ path: file, preferCSSPageSize: true, printBackground: true });
  return file;
}

/** Pages and paper size of a PDF: {pages, size}. */
export function pdfInfo(file) {
  const said = execFileSync("pdfinfo", [file], { encoding: "utf8" });
  const value = (key) => said.match(new RegExp(`^${key}: +(.*)$`, "m"))?.[1] ?? "";
  return { pages: Number(value("Pages")), size: value("Page size") };
}

/** Every word of a PDF with its box in mm from the top left of its page: {text, page, x, y, right, foot}. */
export function pdfWords(file) {
  const said = execFileSync("pdftotext", ["-bbox", file, "-"], { encoding: "utf8", maxBuffer: 1 << 28 });
  const mm = 25.4 / 72;
  let page = 0;
  const words = [];
  for (const line of said.split("\n")) {
    if (line.includes("<page ")) page += 1;
    const box = line.match(/xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">(.*)<\/word>/);
    if (!box) continue;
    const [x, y, right, foot] = box.slice(1, 5).map((value) => Number(value) * mm);
    const text = box[5].replace(/&lt;/g, "<").replace(/&gt;/g, ">").replace(/&quot;/g, '"')
      .replace(/&apos;/g, "'").replace(/&amp;/g, "&");
    words.push({ text, page, x, y, right, foot });
  }
  return words;
}

/** A PNG of what stands in the window, beside the script's other files; for people. */
export async function pictured(page, name) {
  const file = written(`${name}.png`, "");
  await page.screenshot({ path: file, fullPage: true });
  return file;
}

/** The words of a print that must be so many sides of A4, nothing in their margins. */
export function onPages(file, name, pages = 1) {
  const info = pdfInfo(file);
  assert.match(info.size, /\(A4\)/, name);
  assert.equal(info.pages, pages, `${name}: pages`);
  const words = pdfWords(file);
  assert.ok(words.length > 250, `${name}: it has words on it, not ${words.length}`);
  for (const word of words) {
    assert.ok(word.x > 8 && word.right < 202 && word.y > 5 && word.foot < 292,
      `${name}: in the margin: ${word.text}`);
  }
  return words;
}
