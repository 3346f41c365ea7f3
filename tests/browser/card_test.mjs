// The bench card as paper and as a page on a phone.
import assert from "node:assert/strict";
import {
  axe, command, demos, htmlFaults, notSideways, onPages, opened, printed, run, written,
} from "./bench.mjs";

const LEAST_POINTS = 7.5; // common practice: small print

const none = ["roadside-counts"]; // tooth counts alone: there is nothing to simulate
const cards = demos().filter(([name]) => !none.includes(name)).map(
  ([name, file]) => [name, written(`${name}.html`, command(["sheet", file, "--card"]))]);

const leastPoints = (page) => page.evaluate(() => Math.min(...[...document.querySelectorAll("main *")]
  .filter((part) => part.textContent.trim())
  .map((part) => parseFloat(getComputedStyle(part).fontSize) * 0.75)));

const each = Object.fromEntries(cards.map(([name, file]) => [`the card ${name}`, (browser) =>
  opened(browser, file, async (page) => {
    onPages(await printed(page, name), name);
    assert.ok(await leastPoints(page) >= LEAST_POINTS, name);
    assert.deepEqual(await axe(page), [], name);
    await page.setViewportSize({ width: 360, height: 740 });
    await notSideways(page);
  })]));

await run({
  ...each,

  "the Nu HTML checker finds nothing": async () => {
    assert.deepEqual(htmlFaults(cards.map(([, file]) => file)), []);
  },

  "every look that a branch leads to stands on the card, and every letter": async (browser) => {
    for (const [name, file] of cards) {
      await opened(browser, file, async (page) => {
        const [leads, looks, letters] = await page.evaluate(() => [".looks dd", ".looks .number", ".ends dt"]
          .map((part) => [...document.querySelectorAll(part)].map((one) => one.textContent.trim())));
        assert.ok(leads.length > 10, name);
        for (const lead of leads) {
          for (const to of lead.split(" or ")) {
            const there = to.startsWith("look ") ? looks.includes(to.slice(5))
            : to === "use twoturn why" || letters.includes(to);
            assert.ok(there, `${name}: ${to} is nowhere`);
          }
        }
      });
    }
  },
});
