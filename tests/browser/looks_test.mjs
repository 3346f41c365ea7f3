// How pages look: on dark screens and in print, in a narrow window; the paper of the starter.
import assert from "node:assert/strict";
import fs from "node:fs";
import { axe, command, htmlFaults, notSideways, opened, pdfInfo, printed, root, run, written } from "./bench.mjs";

const PROFILE = fs.readFileSync(`${root}/profiles/night-bakery-van.toml`, "utf8");
const file = (name, args, input = PROFILE) => {
  const path = written(name, "");
  command([...args, "-o", path, "--force"], { input });
  return path;
};
const pages = {
  sheet: file("sheet.html", ["sheet", "-"]),
  report: file("report.html", ["report", "-"]),
  draw: file("draw.html", ["draw", "-"]),
  "full size": file("full-size.html", ["draw", "-", "--true-size"]),
  paper: file("paper.html", ["starter", "--paper"], ""),
  "calliper paper": file("calliper.html", ["starter", "--paper", "--calliper", "--cams", "2"], ""),
};
const picture = file("draw.svg", ["draw", "-"]);

/** How light paper and ink are, 0 to 1, and whether pictures are turned over. */
const looked = (page) => page.evaluate(() => {
  const light = (colour) => {
    const [red, green, blue, alpha = 1] = colour.match(/[\d.]+/g).map(Number);
    return alpha === 0 ? null : (0.2126 * red + 0.7152 * green + 0.0722 * blue) / 255;
  };
  const of = (element) => getComputedStyle(element);
  return {
    paper: light(of(document.body).backgroundColor) ?? light(of(document.documentElement).backgroundColor),
    ink: light(of(document.querySelector("h1")).color),
    turned: [...document.querySelectorAll("svg")].map((svg) => of(svg).filter !== "none"),
  };
});

await run({
  "a page follows the reader's setting on a screen, and prints black on white": async (browser) => {
    for (const [name, path] of Object.entries(pages)) {
      await opened(browser, path, async (page) => {
        await page.emulateMedia({ colorScheme: "dark", media: "screen" });
        const dark = await looked(page);
        assert.ok(dark.paper === null || dark.paper < 0.15, `${name}: dark, ${dark.paper}`);
        assert.ok(dark.ink > 0.7, `${name}: light on dark, ${dark.ink}`);
        assert.ok(dark.turned.length > 0 && dark.turned.every(Boolean), `${name}: its pictures too`);
        await page.emulateMedia({ colorScheme: "dark", media: "print" });
        const print = await looked(page);
        assert.ok(print.paper === null || print.paper > 0.99, `${name}: white paper`);
        assert.ok(print.ink < 0.05 || name === "draw" || name === "full size", `${name}: black ink`);
        assert.ok(print.turned.every((turned) => !turned), `${name}: pictures as drawn`);
        await page.emulateMedia({ colorScheme: "light", media: "screen" });
        const light = await looked(page);
        assert.ok((light.paper ?? 1) > 0.99 && light.ink < 0.1, `${name}: by day`);
      });
    }
  },

  "a picture of its own goes into a narrow window whole": (browser) =>
    opened(browser, picture, async (page) => {
      const { width, height } = await page.evaluate(() => document.documentElement.getBoundingClientRect().toJSON());
      assert.ok(width <= 360, `${width} px wide`);
      assert.ok(Math.abs(height / width - 297 / 210) < 0.01, "in its own shape");
    }, { width: 360, height: 740 }),

  "the starter's paper shows what is measured where, prints on A4 and goes on a phone": async (browser) => {
    const faults = htmlFaults([pages.paper, pages["calliper paper"]]);
    assert.deepEqual(faults, []);
    for (const [name, sketches, sheets] of [["paper", 19, 3], ["calliper paper", 21, 4]]) {
      await opened(browser, pages[name], async (page) => {
        assert.equal(await page.locator("figure svg").count(), sketches, name);
        assert.deepEqual(await axe(page), [], name);
        const info = pdfInfo(await printed(page, name));
        assert.match(info.size, /\(A4\)/);
        assert.ok(info.pages <= sheets, `${name}: ${info.pages} sheets`);
        await page.setViewportSize({ width: 360, height: 740 });
        await notSideways(page);
      });
    }
  },
});
