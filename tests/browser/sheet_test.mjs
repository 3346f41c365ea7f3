// The job sheet as paper and as a page on a phone.
import assert from "node:assert/strict";
import fs from "node:fs";
import {
  axe, command, demos, htmlFaults, notSideways, onPages, opened, printed, root, run, written,
} from "./bench.mjs";

const PROFILES = `${root}/profiles`;

// Common practice: capitals of 2.5 mm can be read on a bench; 7.5 points is small print.
const LEAST_CAPITALS_MM = 2.5;
const LEAST_POINTS = 7.5;

/** Eight pulleys, each name 40 letters long, under a title of two lines. */
function hardProfile() {
  const names = ["crank", "tensioner", "left exhaust cam", "left inlet cam", "water pump",
    "right inlet cam", "right exhaust cam", "back idler", "left head", "right head"];
  let text = fs.readFileSync(`${PROFILES}/valley-rescue-v6.toml`, "utf8");
  for (const name of names) {
    const long = `${name} of the long-named sort, as painted on it`.slice(0, 40).replace(/ $/, "s");
    assert.equal(long.length, 40);
    text = text.replaceAll(new RegExp(`((?:name|mount|cam) = |skim_mm = \\{ |build\\.skim_mm\\.)("?)${name}"`, "g"), `$1$2${long}"`);
  }
  return text.replace(/^title = .*$/m,
    'title = "The valley rescue service\'s second truck, four-cam V6, right-hand head skimmed twice before, found under a tarpaulin"');
}

const HOSTILE = `</title></style><script>document.title="ran";alert(1)</script><img src=x onerror='alert(2)'>"&'`;

const HOSTILE_NAME = `<img src=x onerror='alert(3)'>"&'`;

function hostileProfile() {
  return fs.readFileSync(`${PROFILES}/harbour-launch.toml`, "utf8")
    .replace(/^title = .*$/m, `title = ${JSON.stringify(HOSTILE)}`)
    .replace('name = "water pump"', `name = ${JSON.stringify(HOSTILE_NAME)}`)
    .replace(/^"pulley.water pump.*$/m, "");
}

const hard = hardProfile();
const hostile = hostileProfile();
const sheet = (name, profile) => written(`${name}.html`, command(["sheet", "-"], { input: profile }));

const profiles = demos().map(([name, file]) => [name, fs.readFileSync(file, "utf8")]);
profiles.push(["hard", hard], ["hostile", hostile]);
const sheets = profiles.map(([name, profile]) => [name, sheet(name, profile)]);
const withRoom = sheets.filter(([, file]) => fs.readFileSync(file, "utf8").includes('class="view"'));
const fileOf = (wanted) => sheets.find(([name]) => name === wanted)[1];

/** What one side does not hold goes on another, and with bolts or trays the job card on one of its own; the fault card alone goes before the job card. */
function sides(file) {
  const page = fs.readFileSync(file, "utf8");
  const over = (what) => new RegExp(`<main class="sheet[^"]* ${what}-over`).test(page);
  const card = page.includes('class="job"');
  return 1 + (over("(small-print|marks)") || (over("faults") && !card) ? 1 : 0) + (card ? 1 : 0);
}

/** Height of capitals and size of every text as printed. */
async function printedSizes(page) {
  await page.emulateMedia({ media: "print" });
  const sizes = await page.evaluate(() => {
    const pen = document.createElement("canvas").getContext("2d");
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    const found = [];
    while (walker.nextNode()) {
      const node = walker.currentNode;
      const style = getComputedStyle(node.parentElement);
      if (!node.data.trim() || node.parentElement.getClientRects().length === 0) continue;
      // Words of a picture are as large as the picture is drawn.
      const svg = node.parentElement.closest("svg");
      const pixels = parseFloat(style.fontSize) * (svg ? svg.getScreenCTM().a : 1);
      pen.font = `${style.fontWeight} 1000px ${style.fontFamily}`;
      const capitals = pen.measureText("H").actualBoundingBoxAscent / 1000;
      found.push({
        text: node.data.trim().slice(0, 40),
        points: pixels * 0.75,
        capitals_mm: (pixels * capitals * 25.4) / 96,
        bench: Boolean(node.parentElement.closest("header, .must, .says, .shout, .work, .marks tbody")),
      });
    }
    return found;
  });
  await page.emulateMedia({ media: null });
  return sizes;
}

function largeEnough(sizes, name) {
  assert.ok(sizes.filter((size) => size.bench).length > 40, name);
  for (const size of sizes) {
    assert.ok(size.points >= LEAST_POINTS - 1e-3, `${name}: ${size.points} points: ${size.text}`);
    if (!size.bench) continue;
    assert.ok(size.capitals_mm >= LEAST_CAPITALS_MM - 1e-3,
      `${name}: capitals of ${size.capitals_mm} mm: ${size.text}`);
  }
}

/** A picture that is printed can be read and stands beside the first step. */
async function pictureBesideSteps(page, name) {
  await page.emulateMedia({ media: "print" });
  const [view, step] = await page.evaluate(() => [".view svg", ".step"].map(
    (part) => document.querySelector(part)?.getBoundingClientRect().toJSON()));
  await page.emulateMedia({ media: null });
  if (!view) return;
  withPicture.push(name);
  const mm = 96 / 25.4;
  assert.ok(view.width >= 50 * mm && view.height >= 65 * mm, `${name}: ${view.width / mm} mm wide`);
  assert.ok(Math.abs(view.top - step.top) < 2 * mm, `${name}: beside the first step`);
  assert.ok(view.left > step.left + 80 * mm, `${name}: on its right`);
}
const withPicture = [];

// One page of A4 that can be read; on a phone of 360 px no sideways scroll; nothing that axe-core
// objects to; and, as with every page opened here, not one request.
const each = Object.fromEntries(sheets.map(([name, file]) => [`the sheet ${name}`, (browser) =>
  opened(browser, file, async (page) => {
    onPages(await printed(page, name), name, sides(file));
    largeEnough(await printedSizes(page), name);
    await pictureBesideSteps(page, name);
    assert.deepEqual(await axe(page), [], name);
    await page.setViewportSize({ width: 360, height: 740 });
    await notSideways(page);
  })]));

await run({
  ...each,

  "every drive has its picture": async () => {
    assert.deepEqual(withPicture, withRoom.map(([name]) => name));
    assert.deepEqual(withPicture, sheets.map(([name]) => name));
  },

  "the Nu HTML checker finds nothing": async () => {
    const card = written("lone-card.html", command(["sheet", `${PROFILES}/harbour-launch.toml`, "--job-card"]));
    assert.deepEqual(htmlFaults([...sheets.map(([, file]) => file), card]), []);
  },

  "a title and a name that are markup and script show as text, and nothing runs": async (browser) => {
    await opened(browser, fileOf("hostile"), async (page) => {
      assert.equal(await page.title(), `Job sheet: ${HOSTILE}`);
      assert.equal(await page.locator("h1").textContent(), HOSTILE);
      assert.equal(await page.locator("script, img, [onerror]").count(), 0);
      assert.ok((await page.locator(".work").first().textContent()).includes(HOSTILE_NAME), "the pump's name");
    });
  },

  "a stop stands at the head, in large letters, with what to do": async (browser) => {
    await opened(browser, fileOf("night-bakery-van"), async (page) => {
      const words = onPages(await printed(page, "stop"), "stop", sides(fileOf("night-bakery-van")));
      const stop = words.find((word) => word.text === "STOP:");
      assert.ok(stop && stop.y < 40, "near the top of the paper");
      assert.ok(stop.foot - stop.y > 8, "large");
      assert.match(await page.locator(".verdict .must").textContent(), /turn the inlet cam 1.tooth on/);
    });
  },

  "the job card has a box for every bolt of every stage, and the order drawn": async (browser) => {
    const card = written("card.html", command(["sheet", `${PROFILES}/night-bakery-van.toml`, "--job-card"]));
    await opened(browser, card, async (page) => {
      for (const stage of [1, 2, 3]) {
        for (let bolt = 1; bolt <= 10; bolt += 1) {
          await page.getByLabel(`head bolts, stage ${stage}, bolt ${bolt}`, { exact: true }).check();
        }
      }
      assert.equal(await page.locator(".tray input").count(), 16);
      // The drawing has each bolt's number where the profile has the bolt: the first two amid them.
      const boxes = await page.locator(".group svg text").evaluateAll((texts) =>
        texts.map((text) => [Number(text.textContent), text.getBoundingClientRect().x]));
      assert.deepEqual(boxes.map(([number]) => number), [1, 2, 3, 4, 5, 6, 7, 8, 9, 10]);
      const across = boxes.map(([, x]) => x);
      const middle = (Math.min(...across) + Math.max(...across)) / 2;
      const off = across.map((x) => Math.abs(x - middle));
      assert.ok(Math.max(off[0], off[1]) < Math.min(...off.slice(2)), `${off}`);
      largeEnough(await printedSizes(page), "card");
      assert.deepEqual(await axe(page), []);
      await page.setViewportSize({ width: 360, height: 740 });
      await notSideways(page);
    });
  },

  "boxes can be ticked and blanks filled in on the screen": async (browser) => {
    await opened(browser, fileOf("harbour-launch"), async (page) => {
      await page.getByText("Battery off").click();
      assert.equal(await page.locator("input:checked").count(), 1);
      await page.getByLabel("counted").first().fill("112");
      assert.equal(await page.getByLabel("counted").first().inputValue(), "112");
    });
  },
});
