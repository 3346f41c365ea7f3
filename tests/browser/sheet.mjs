// The job sheet as paper and as a page on a phone.
import assert from "node:assert/strict";
import fs from "node:fs";
import {
  axe, command, demos, htmlFaults, notSideways, opened, pdfInfo, pdfWords, pictured, printed, root, run, written,
} from "./bench.mjs";

const PROFILES = `${root}/profiles`;

// Common practice: capitals of 2.5 mm can be read on a bench; 7.5 points is small print.
const LEAST_CAPITALS_MM = 2.5;
const LEAST_POINTS = 7.5;

// The place that the picture of the belt end takes.
const VIEW_MM = [85, 110];

/** Eight pulleys, each name 40 letters long, under a title of two lines. */
function hardProfile() {
  const names = ["crank", "tensioner", "left exhaust cam", "left inlet cam", "water pump",
    "right inlet cam", "right exhaust cam", "back idler", "left head", "right head"];
  let text = fs.readFileSync(`${PROFILES}/valley-rescue-v6.toml`, "utf8");
  for (const name of names) {
    const long = `${name} of the long-named sort, as painted on it`.slice(0, 40).replace(/ $/, "s");
    assert.equal(long.length, 40);
    text = text.replaceAll(new RegExp(`((?:name|mount) = |skim_mm = \\{ |build\\.skim_mm\\.)("?)${name}"`, "g"), `$1$2${long}"`);
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

const sheets = [
  ...demos().map(([name, profile]) => [name, written(`${name}.html`, command(["sheet", profile]))]),
  ["hard", written("hard.html", command(["sheet", "-"], { input: hardProfile() }))],
  ["hostile", written("hostile.html", command(["sheet", "-"], { input: hostileProfile() }))],
];

async function addView(page) {
  await page.evaluate(([wide, high]) => {
    const box = `<svg viewBox="0 0 ${wide} ${high}" width="${wide}mm" height="${high}mm" role="img" aria-label="view">` +
      `<rect width="${wide}" height="${high}" fill="none" stroke="black"/></svg>`;
    document.querySelector("main").classList.add("has-view");
    document.querySelector(".work").insertAdjacentHTML("beforebegin", `<figure class="view">${box}</figure>`);
  }, VIEW_MM);
}

function onOnePage(file, name) {
  const info = pdfInfo(file);
  assert.match(info.size, /\(A4\)/, name);
  assert.equal(info.pages, 1, `${name}: pages`);
  const words = pdfWords(file);
  assert.ok(words.length > 300, `${name}: a sheet has words on it`);
  for (const word of words) {
    assert.ok(word.x > 8 && word.right < 202 && word.y > 6 && word.foot < 291, `${name}: in the margin: ${word.text}`);
  }
  return words;
}

/** Height of capitals and size of every text as printed. */
async function printedSizes(page) {
  await page.emulateMedia({ media: "print" });
  return page.evaluate(() => {
    const pen = document.createElement("canvas").getContext("2d");
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    const sizes = [];
    while (walker.nextNode()) {
      const node = walker.currentNode;
      const style = getComputedStyle(node.parentElement);
      if (!node.data.trim() || style.display === "none") continue;
      const pixels = parseFloat(style.fontSize);
      pen.font = `${style.fontWeight} 1000px ${style.fontFamily}`;
      const capitals = pen.measureText("H").actualBoundingBoxAscent / 1000;
      sizes.push({
        text: node.data.trim().slice(0, 40),
        points: pixels * 0.75,
        capitals_mm: (pixels * capitals * 25.4) / 96,
        bench: Boolean(node.parentElement.closest("header, .must, .says, .shout, .work, .marks tbody")),
      });
    }
    return sizes;
  });
}

await run({
  "each sheet prints on one side of A4": async (browser) => {
    for (const [name, file] of sheets) {
      await opened(browser, file, async (page) => {
        onOnePage(await printed(page, name), name);
        await pictured(page, name);
      });
    }
  },

  "with a picture it still does, the picture beside the first steps": async (browser) => {
    for (const [name, file] of sheets) {
      await opened(browser, file, async (page) => {
        await addView(page);
        onOnePage(await printed(page, `${name}-view`), name);
        await page.emulateMedia({ media: "print" });
        const [view, step] = await page.evaluate(() =>
          [".view", ".step"].map((part) => document.querySelector(part).getBoundingClientRect().toJSON()));
        assert.ok(Math.abs(view.top - step.top) < 20, `${name}: the picture stands beside the first step`);
        const one = 96 / 25.4;
        assert.ok(view.width >= 70 * one && view.height >= 90 * one, `${name}: the picture keeps its size`);
      });
    }
  },

  "what is read on the bench is printed large enough": async (browser) => {
    for (const [name, file] of sheets) {
      const sizes = await opened(browser, file, printedSizes);
      assert.ok(sizes.filter((size) => size.bench).length > 40, name);
      for (const size of sizes) {
        assert.ok(size.points >= LEAST_POINTS - 1e-3, `${name}: ${size.points} points: ${size.text}`);
        if (size.bench) {
          assert.ok(size.capitals_mm >= LEAST_CAPITALS_MM - 1e-3, `${name}: ${size.capitals_mm} mm: ${size.text}`);
        }
      }
    }
  },

  "a narrow phone needs no sideways scroll": async (browser) => {
    for (const [name, file] of sheets) {
      await opened(browser, file, async (page) => {
        await notSideways(page);
        await addView(page);
        await notSideways(page);
        await pictured(page, `${name}-phone`);
      }, { width: 360, height: 740 });
    }
  },

  "axe-core finds nothing": async (browser) => {
    for (const [name, file] of sheets) {
      assert.deepEqual(await opened(browser, file, axe), [], name);
    }
  },

  "the Nu HTML checker finds nothing": async () => {
    assert.deepEqual(htmlFaults(sheets.map(([, file]) => file)), []);
  },

  "a title that is markup and script shows as text, and nothing runs": async (browser) => {
    const file = sheets.find(([name]) => name === "hostile")[1];
    await opened(browser, file, async (page) => {
      assert.equal(await page.title(), `Job sheet: ${HOSTILE}`);
      assert.equal(await page.locator("h1").textContent(), HOSTILE);
      assert.equal(await page.locator("script, img, [onerror]").count(), 0);
      assert.ok((await page.locator(".work").textContent()).includes(HOSTILE_NAME), "the pump's name");
    });
  },

  "a stop stands at the head, in large letters, with what to do": async (browser) => {
    const file = sheets.find(([name]) => name === "night-bakery-van")[1];
    await opened(browser, file, async (page) => {
      const words = onOnePage(await printed(page, "stop"), "stop");
      const stop = words.find((word) => word.text === "STOP:");
      assert.ok(stop && stop.y < 40, "near the top of the paper");
      assert.ok(stop.foot - stop.y > 8, "large");
      assert.match(await page.locator(".must").textContent(), /turn the inlet cam 1.tooth on/);
    });
  },
});
